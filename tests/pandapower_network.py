"""The network of a book, built again in pandapower from the book's own items and inputs, so that an outside solver can judge the results.

pandapower replaces everything at the bus of a generator by the generator alone when it looks for the peak, so each set gets
a bus of its own behind a link of next to no impedance.
"""

import logging

import numpy as np
import pandapower
import pandapower.shortcircuit

logging.getLogger("pandapower").setLevel(logging.ERROR)  # it warns that it cannot tell the decay near sets, which is not asked of it

LINK = {"r_ohm_per_km": 1e-5, "x_ohm_per_km": 1e-4, "c_nf_per_km": 0, "max_i_ka": 1}  # over a metre: a tenth of a microhm


def build(book, running, supplied, motors=True, only=()):
    """A pandapower network and the bus index of each bus id. `running`: ids of sets; `supplied`: ids of infeeds; `only`: services that are closed."""
    net = pandapower.create_empty_network(f_hz=float(book["power_frequency"].number))
    buses = {bus: pandapower.create_bus(net, vn_kv=of(book, "bus_voltage", bus) / 1e3, name=bus) for bus in book.items["bus"]}
    _sources(book, net, buses, running, supplied)
    for item in book.items["transformer"]:
        _transformer(book, net, buses, item, book[f"transformer_service.{item}"].number in only)
    for item in book.items["feeder"]:
        _feeder(book, net, buses, item, book[f"feeder_service.{item}"].number in only)
    for item in book.items["motor_group"] if motors else ():
        bus = buses[book[f"motor_group_bus.{item}"].number]
        pandapower.create_motor(net, bus, pn_mech_mw=of(book, "motor_group_power", item) / 1e6, cos_phi=0.9,
                                cos_phi_n=of(book, "motor_group_power_factor", item),
                                efficiency_n_percent=of(book, "motor_group_efficiency", item) * 100, lrc_pu=of(book, "motor_group_locked_rotor_ratio", item),
                                rx=of(book, "motor_group_resistance_ratio", item), vn_kv=net.bus.vn_kv[bus])
    return net, buses


def of(book, term, item):
    return float(book[f"{term}.{item}"].number)


def _sources(book, net, buses, running, supplied):
    for item in running:
        kilovolts, megavolts = of(book, "generator_rated_voltage", item) / 1e3, of(book, "generator_rated_apparent_power", item) / 1e6
        bus = buses[book[f"generator_bus.{item}"].number]
        own = pandapower.create_bus(net, vn_kv=net.bus.vn_kv[bus])
        pandapower.create_line_from_parameters(net, own, bus, length_km=1e-3, endtemp_degree=20, **LINK)
        reactance = of(book, "generator_subtransient_reactance", item)
        pandapower.create_gen(net, own, p_mw=0, vn_kv=kilovolts, sn_mva=megavolts, xdss_pu=reactance, cos_phi=of(book, "generator_power_factor", item),
                              rdss_ohm=of(book, "generator_resistance_ratio", item) * reactance * kilovolts**2 / megavolts, slack=True)
    for item in supplied:
        bus = buses[book[f"infeed_bus.{item}"].number]
        ratio = of(book, "infeed_resistance_ratio", item)
        pandapower.create_ext_grid(net, bus, s_sc_max_mva=of(book, "infeed_short_circuit_power", item) / 1e6, rx_max=ratio,
                                   s_sc_min_mva=of(book, "infeed_short_circuit_power_min", item) / 1e6, rx_min=ratio)


def _transformer(book, net, buses, item, closed):
    pandapower.create_transformer_from_parameters(
        net, buses[book[f"transformer_high_bus.{item}"].number], buses[book[f"transformer_low_bus.{item}"].number],
        sn_mva=of(book, "transformer_rating", item) / 1e6, vn_hv_kv=of(book, "transformer_high_voltage", item) / 1e3,
        vn_lv_kv=of(book, "transformer_low_voltage", item) / 1e3, vk_percent=of(book, "transformer_impedance_voltage", item) * 100,
        vkr_percent=of(book, "transformer_resistance_voltage", item) * 100, pfe_kw=0, i0_percent=0, in_service=closed)


def _feeder(book, net, buses, item, closed):
    pandapower.create_line_from_parameters(
        net, buses[book[f"feeder_from_bus.{item}"].number], buses[book[f"feeder_to_bus.{item}"].number], length_km=of(book, "feeder_length", item) / 1e3,
        r_ohm_per_km=of(book, "feeder_resistance_per_length", item) * 1e3, x_ohm_per_km=of(book, "feeder_reactance_per_length", item) * 1e3,
        c_nf_per_km=0, max_i_ka=1, parallel=int(of(book, "feeder_parallel", item)), endtemp_degree=of(book, "feeder_end_temperature", item) - 273.15,
        in_service=closed)


def currents(net, buses, case="max"):
    """(initial, peak) in amperes at each bus, in the order of the buses; nought where pandapower finds no source."""
    pandapower.shortcircuit.calc_sc(net, case=case, ip=case == "max", lv_tol_percent=6)
    initial = net.res_bus_sc.ikss_ka.reindex(list(buses.values())).fillna(0).to_numpy() * 1e3
    peak = net.res_bus_sc.ip_ka.reindex(list(buses.values())).fillna(0).to_numpy() * 1e3 if case == "max" else np.zeros_like(initial)
    return initial, peak
