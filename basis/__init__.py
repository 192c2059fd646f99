"""Design basis books of standby diesel plants: from plain text to a book in which every number can be followed."""

__version__ = "0.2.0"


def load(folder):
    """Read and solve the project in `folder` and return its Book.

    Raises basis.language.faults.Faults with everything that is wrong in the folder, never only the first.
    """
    from basis.solving.solve import load as load_book  # kept out of the import of the package: reading units costs a quarter second

    return load_book(folder)
