"""Controls and signals, second part: cores, cables, conduits by fill, and first cost, for each way of wiring."""

from basis.language.formula import check, formula
from basis.language.maths import ceil, floor, lookup, mm, pick, sum_over

# Cores and cables

@formula(source="definition")
def control_run_cores(signal_run, control_run_number, signal_cores, signal_count, signal_wired):
    """Cores of the signals that one run carries by wire.

    Example: signal_run=[item_1], control_run_number=[1], signal_count=[38], signal_wired=[[1, 1, 0]] give [[76, 76, 0]] (hand calculation).
    """
    return sum_over("signal", signal_cores * signal_count * signal_wired if pick(signal_run, control_run_number) == control_run_number else 0)


@formula(source="control-spare")
def control_run_cores_spare(control_run_cores, control_spare):
    """Cores with spares, rounded up: a core costs little while the cable is bought and much afterwards.

    Example: control_run_cores=[[76, 76, 0]] give [[92, 92, 0]] (hand calculation).
    """
    return control_run_cores + ceil(control_run_cores * control_spare)


@formula(source="definition")
def control_run_cables(control_cable_form, control_run_cores_spare, control_cable_cores_max):
    """Multi-core cables of one run when none is larger than the project allows.

    Example: control_run_cores_spare=[[92, 92, 0]] give [[3, 3, 0]] (hand calculation).
    """
    return ceil(control_run_cores_spare / control_cable_cores_max) if control_cable_form == "multicore" else 0


@formula(source="cable-assembly")
def control_run_cable_cores(control_cable_form, control_run_cores_spare, control_run_cables):
    """Next standard number of cores of each cable; nought where no cable is laid.

    Example: control_run_cores_spare=[[92, 92, 92]], control_run_cables=[[3, 3, 3]] give [[37, 37, 37]] (hand calculation).
    """
    return (min(control_run_cables, 1) * lookup("cable-assembly", "cores", control_run_cores_spare / max(control_run_cables, 1))
            if control_cable_form == "multicore" else 0)


@formula(source="definition")
def control_run_cores_laid(control_cable_form, control_run_cables, control_run_cable_cores, control_run_cores_spare):
    """Cores as bought: all those of the cables, or single conductors by count."""
    return control_run_cables * control_run_cable_cores if control_cable_form == "multicore" else control_run_cores_spare


@formula(source=("cable-assembly", "cable-coverings"))
def control_run_bundle_diameter(control_run_cable_cores, control_run_core_diameter):
    """Diameter of the laid-up cores under an inner covering of 0.4 mm; nought where no cable is laid.

    Example: control_run_cable_cores=[[19, 19, 19]], control_run_core_diameter=[3.0 mm] give [[15.8 mm, 15.8 mm, 15.8 mm]] (hand calculation).
    """
    return min(control_run_cable_cores, 1) * (lookup("cable-assembly", "coefficient", control_run_cable_cores) * control_run_core_diameter + 0.8 * mm)


@formula(source="cable-coverings")
def control_run_cable_diameter(control_run_bundle_diameter):
    """Diameter over the sheath, whose thickness grows with the cable. It stands in until the sheet of the cable is at hand.

    Example: control_run_bundle_diameter=[[15.8 mm, 15.8 mm, 30 mm]] give [[19.4 mm, 19.4 mm, 34.1 mm]] (hand calculation).
    """
    return control_run_bundle_diameter + 2 * max(1.8 * mm, 0.035 * control_run_bundle_diameter + 1.0 * mm) if control_run_bundle_diameter > 0 else 0


# Conduits

@formula(source="definition")
def control_run_pieces(control_cable_form, control_run_cables, control_run_cores_spare):
    """What is drawn in piece by piece: cables, or single conductors."""
    return control_run_cables if control_cable_form == "multicore" else control_run_cores_spare


@formula(source="definition")
def control_run_piece_area(control_cable_form, control_run_cable_diameter, control_run_core_area):
    """Area of a piece: the round of a cable over its sheath, or a conductor over its insulation.

    Example: control_run_cable_diameter=[[20 mm, 20 mm, 20 mm]], control_run_core_area=[6 mm^2] give [[314 mm^2, 314 mm^2, 314 mm^2]] (hand calculation).
    """
    return 3.141592653589793 / 4 * control_run_cable_diameter ** 2 if control_cable_form == "multicore" else control_run_core_area


@formula(source="control-conduit-usual")
def control_conduit_area_max(control_conduit_table, control_conduit_usual_area):
    """The size of the project's own table that is usual, or the next above it: not every table has tubing of two inches.

    Example: control_conduit_table=control-trunking-square, control_conduit_usual_area=3.356 in^2 give 2304 mm^2 (hand calculation: 48 mm square).
    """
    return lookup(control_conduit_table, "area", control_conduit_usual_area)


@formula(source="nec-ch9-table-1")
def control_conduit_holds(control_conduit_fill_max, control_conduit_area_max, control_run_piece_area):
    """Whole pieces that the largest conduit may hold.

    Example: control_conduit_area_max=3.356 in^2, control_run_piece_area=[[0.0097 in^2, 0.0097 in^2, 0.0097 in^2]] give [[138, 138, 138]] (hand calculation).
    """
    return max(floor(control_conduit_fill_max * control_conduit_area_max / control_run_piece_area), 1) if control_run_piece_area > 0 else 1


@formula(source="nec-ch9-table-1")
def control_run_conduits(control_run_pieces, control_conduit_holds):
    """Conduits of one run when each holds no more than it may.

    Example: control_run_pieces=[[5, 5, 5]], control_conduit_holds=[[2, 2, 2]] give [[3, 3, 3]] (hand calculation).
    """
    return ceil(control_run_pieces / control_conduit_holds)


@formula(source="nec-ch9-table-1")
def control_run_fill_area(control_run_pieces, control_run_conduits, control_run_piece_area):
    """Area filled in the fullest conduit of the run.

    Example: control_run_pieces=[[92, 92, 92]], control_run_conduits=[[1, 1, 1]], control_run_piece_area=[[0.0097 in^2, 0.0097 in^2, 0.0097 in^2]] give
    [[0.892 in^2, 0.892 in^2, 0.892 in^2]] (hand calculation).
    """
    return ceil(control_run_pieces / max(control_run_conduits, 1)) * control_run_piece_area


@formula(source=("nec-ch9-table-4-by-area", "trunking-by-area"))
def control_run_conduit_area(control_conduit_table, control_run_fill_area, control_conduit_fill_max):
    """Internal area of the smallest size that may hold it.

    Example: control_conduit_table=control-conduit-emt, control_run_fill_area=[[0.892 in^2, 0.892 in^2, 0.892 in^2]] give [[3.356 in^2, 3.356 in^2, 3.356 in^2]]
    (NEC chapter 9, table 4).
    """
    return lookup(control_conduit_table, "area", control_run_fill_area / control_conduit_fill_max)


@formula(source=("nec-ch9-table-4-by-area", "trunking-by-area"))
def control_run_conduit_size(control_conduit_table, control_run_fill_area, control_conduit_fill_max):
    """That size: trade size of tubing, side of square trunking. Nought where nothing is laid."""
    return lookup(control_conduit_table, "size", control_run_fill_area / control_conduit_fill_max) if control_run_fill_area > 0 else 0


@formula(source="definition")
def control_run_fill(control_run_fill_area, control_run_conduit_area):
    """Fill of the size chosen; what is left is room for the next cable, and for pulling this one out.

    Example: control_run_fill_area=[[0.892 in^2, 0.892 in^2, 0.892 in^2]], control_run_conduit_area=[[3.356 in^2, 3.356 in^2, 3.356 in^2]] give [[26.6 %,
    26.6 %, 26.6 %]] (hand calculation).
    """
    return control_run_fill_area / control_run_conduit_area


# Cost

@formula(source="wiring-cost")
def control_run_cost(control_run_count, control_run_length, control_run_cores_laid, control_core_price, control_run_cables, control_run_conduits,
                     control_cable_form, control_cable_price, control_conduit_price, control_run_cores_spare, control_termination_price):
    """Cost of all runs alike: cores and their laying, conduits, and both ends of every core, spares included since they are rung out too.

    Example: control_run_count=[1], control_run_length=[60 m], control_run_cores_laid=[[19, 19, 0]], control_core_price=0.60 cur/m, control_run_cables=[[1,
    1, 0]], control_run_conduits=[[1, 1, 0]], control_cable_price=9 cur/m, control_conduit_price=30 cur/m, control_run_cores_spare=[[18, 18, 0]],
    control_termination_price=6 cur give [[3240 cur, 3240 cur, 0 cur]] (hand calculation).
    """
    return control_run_count * (control_run_length * (control_run_cores_laid * control_core_price
                                                      + (control_run_cables if control_cable_form == "multicore"
                                                         else control_run_conduits) * control_cable_price
                                                      + control_run_conduits * control_conduit_price)
                                + 2 * control_run_cores_spare * control_termination_price)


@formula(source="network-stations")
def network_stations(installed_sets):
    """A station for each set, one in the switchgear, one in the master control. Example: installed_sets=3 give 5 (hand calculation)."""
    return installed_sets + 2


@formula(source="definition")
def way_networked(way_network_points):
    """One where any circuit needs the network, however few."""
    return min(way_network_points, 1)


@formula(source="wiring-cost")
def way_network_cost(way_networked, network_cables, network_length, network_cable_price, network_stations, network_station_price):
    """Cables by their separate ways and stations, where there is a network at all.

    Example: way_networked=[0, 1, 1], network_length=200 m, network_cable_price=18 cur/m, network_stations=5, network_station_price=3000 cur give [0 cur, 22200
    cur, 22200 cur] (hand calculation).
    """
    return way_networked * (network_cables * network_length * network_cable_price + network_stations * network_station_price)


@formula(source="definition")
def way_cores(control_run_count, control_run_cores_spare):
    """Cores with spares of all runs, for each way of wiring."""
    return sum_over("control_run", control_run_count * control_run_cores_spare)


@formula(source="definition")
def way_core_length(control_run_count, control_run_cores_laid, control_run_length):
    """Metres of core that are laid.

    Example: control_run_count=[3], control_run_cores_laid=[[37, 37, 0]], control_run_length=[55 m] give [6.105 km, 6.105 km, 0.000 km] (hand calculation).
    """
    return sum_over("control_run", control_run_count * control_run_cores_laid * control_run_length)


@formula(source="definition")
def way_cables(control_run_count, control_run_cables):
    """Multi-core cables of all runs, each to be pulled, glanded and marked at both ends."""
    return sum_over("control_run", control_run_count * control_run_cables)


@formula(source="definition")
def way_conduits(control_run_count, control_run_conduits):
    """Conduits or trunkings of all runs: what walls, floors and fire stops must find room for."""
    return sum_over("control_run", control_run_count * control_run_conduits)


@formula(source="wiring-cost")
def way_cost(control_run_cost, way_network_cost):
    """First cost of each way. Programming of the controllers, which every way needs, is not in it."""
    return sum_over("control_run", control_run_cost) + way_network_cost


@formula(source="definition")
def control_cores(way_chosen, way_cores):
    """Cores of the design, with spares."""
    return sum_over("wiring_way", way_chosen * way_cores)


@formula(source="definition")
def control_conduits(way_chosen, way_conduits):
    """Conduits or trunkings of the design."""
    return sum_over("wiring_way", way_chosen * way_conduits)


@formula(source="definition")
def control_cost(way_chosen, way_cost):
    """First cost of the way that is built."""
    return sum_over("wiring_way", way_chosen * way_cost)


@formula(source="definition")
def control_saving(way_wires_all, way_cost, control_cost):
    """What the design saves against wires throughout; negative where the network costs more than the wires that it replaces."""
    return sum_over("wiring_way", way_wires_all * way_cost) - control_cost


room = check("control_conduit_room", "control_conduits", limit="control_conduits_max", safe="below", source="project", title="Room for control conduits",
             exact=True)
sizes = check("control_conduit_size", "control_run_conduit_area", limit="control_conduit_area_max", safe="below", source="project",
              title="Conduits no larger than the project lays", exact=True)
