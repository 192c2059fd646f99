"""A draft as project files in the plainest way, so that tests of rules do not hang on how files for people are laid out."""

from basis.language.terms import homes, listed, terms
from basis.reading.schema import STANDINGS


def write_plain(draft, folder):
    """One file for all; lists with all that is written for their items."""
    folder.mkdir(parents=True)
    lines = [f"{key}: {text}" for key, text in draft.project.items()]
    lines += [_line(term_id, one) for (term_id, item), one in draft.written.items() if not item]
    for axis, items in draft.items.items():
        lines.append(f"{listed(axis).key}:" + ("" if items else " []"))
        for item, name in items.items():
            lines += [f"  - id: {item}", f'    name: "{name}"']
            lines += [f"    {_line(term_id, one)}" for (term_id, of), one in draft.written.items() if of == item and terms()[term_id].own_axes == (axis,)]
    (folder / "project.yaml").write_text("\n".join(lines) + "\n", "utf-8")
    for name, text in draft.files.items():
        (folder / name).write_text(text, "utf-8")
    assert all(one.standing in ("", *STANDINGS) for one in draft.written.values()) and homes()
    return folder


def _line(term_id, one):
    main = "file" if terms()[term_id].fixed_axis == "hour" else "value"
    text = one.text if one.text.startswith("[") or main == "file" else f'"{one.text}"'
    said = [f"{main}: {text}"] + ([f'note: "{one.note}"'] if one.note else []) + ([f"standing: {one.standing}"] if one.standing else [])
    return f"{term_id}: {{{', '.join(said)}}}"
