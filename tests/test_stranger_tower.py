"""A plant that nobody here drew: three sets of 2,000 kW at 480 V in the basement of a tower, their radiators and exhausts 180 ft above; cold winters, a main
tank under ground, two decisions of which one could be started by air, no cables listed, no record, no spectrum of one machine. All chapters, in the units of
the place.
"""

import numpy as np
import pytest
from rendering import chapter_page
from test_stranger_bare import book_of

from basis.chapters import catalogue
from basis.language.faults import Faults

PLANT = """place: "14-storey hospital tower, Merrow (invented)"
purpose: Essential supply of a hospital tower - operating rooms, intensive care, lifts and the chilled water of both
altitude: 2800 ft
outdoor_temperature_max: {value: 95 degF, note: "0.4 % design day"}
outdoor_temperature_min: {value: -20 degF, standing: assumed, note: "coldest in thirty years, from the airport"}
outdoor_relative_humidity: 30 %
power_frequency: 60 Hz
currency: USD
status_date: 2026-11-20
commissioning_date: 2029-04-02
energy_price: 0.118 USD/kWh
fuel_price: {value: 4.05 USD/gal, standing: assumed}
test_hours_max: 100 h
codes:
  - {id: standby, name: Standby power, code_title: NFPA 110, code_edition: "2010", code_use: "Type 10, Class 96, Level 1", code_standing: quoted}
  - {id: electrical, name: Electrical, code_title: NFPA 70, code_edition: "2020", code_use: Conductors, code_standing: quoted}
  - {id: emissions, name: Emissions, code_title: 40 CFR 60 Subpart IIII, code_edition: "2022", code_use: Hours}
signatures:
  - {id: electrical, name: Electrical, signature_role: Electrical engineer of record}
  - {id: mechanical, name: Mechanical, signature_role: Mechanical engineer}
hours_per_year_tests: 18 h
hours_per_year_outages: 10 h
decisions:
  - id: start
    name: Starting method
    chosen: battery
    reason: Batteries are what the hospital's own crew knows; two strings a set.
    options:
      - {id: battery, name: Batteries, gives_up: Certainty about their state., with: {starting_method: battery}}
      - id: air
        name: Compressed air
        gives_up: Money and floor in a basement that has none to spare.
        with:
          starting_method: air
          receiver_volume: 18 ft^3
          air_receivers: 2
          receiver_pressure_max: 250 psi
          receiver_pressure_min: 110 psi
          air_per_start: {value: 45 ft^3, standing: assumed}
          compressor_free_air: 18 cfm
  - id: voltage
    name: Generating voltage
    chosen: low
    reason: The distribution of the tower is 480 V, and the run in the basement is short.
    options:
      - {id: low, name: 480 V, gives_up: Copper and a heavy bus., with: {generating_voltage: 480 V, transformer_need: none}}
      - id: medium
        name: 4160 V
        gives_up: Simplicity; transformers in the basement, and medium-voltage staff.
        with:
          generating_voltage: 4160 V
          transformer_need: step_down
          transformer_count: 2
          transformer_price: 95000 USD
          transformer_rated_power: 2500 kVA
          transformer_no_load_loss: 3.4 kW
          transformer_load_loss: 19 kW
          ampacity_table: nec-310-60-c77-5kv
          termination_limit: not_limiting
          conductor_size: 4/0 AWG
          bus_rating_table: us-medium-voltage-bus-rating
          alternator_premium: 48000 USD
          switchgear_bay_price: 61000 USD
          cable_dimension: data_sheet
          cable_outer_diameter: 1.16 in
          earth_cable_diameter: 0.64 in
          least_size_table: nec-310-106-least-size
rating_class: ESP
set_rated_power: 2000 kW
engine_speed: 1800 rpm
spare_sets: 1
installed_sets: 3
loads:
  - {id: life_safety, name: Life safety, load_connected_power: 210 kW, load_power_factor: 0.95, load_step_joined: first, load_demand_factor: 0.9}
  - {id: critical, name: Critical branch, load_connected_power: 980 kW, load_power_factor: 0.93, load_step_joined: first, load_demand_factor: 0.65,
     load_nonlinear_share: 45 %, load_growth_rate: 1 %}
  - {id: lifts, name: Elevators (two of eight at a time), load_connected_power: 160 kW, load_power_factor: 0.85, load_step_joined: second,
     load_regenerative_power: 60 kW}
  - {id: air, name: Air handling of operating rooms, load_connected_power: 720 kW, load_power_factor: 0.95, load_step_joined: second,
     load_demand_factor: 0.8, load_nonlinear_share: 80 %}
  - {id: chillers, name: Chillers, load_connected_power: 1250 kW, load_power_factor: 0.88, load_step_joined: third, load_service: deferrable,
     load_demand_factor: 0.85}
  - {id: imaging, name: Imaging, load_connected_power: 340 kW, load_power_factor: 0.9, load_step_joined: third, load_demand_factor: 0.5,
     load_nonlinear_share: 100 %}
  - {id: fire_pump, name: Fire pump, load_connected_power: 125 kW, load_power_factor: 0.87, load_step_joined: second}
  - {id: aux, name: Auxiliaries of the plant, load_connected_power: 190 kW, load_power_factor: 0.86, load_step_joined: second}
load_steps:
  - {id: first, name: Life safety and critical, step_time: 10 s, step_acceptance: 60 %, step_sets: 1}
  - {id: second, name: Equipment, step_time: 25 s, step_acceptance: 50 %, step_sets: 2}
  - {id: third, name: Chillers and imaging, step_time: 60 s, step_sets: 3}
firm_demand: essential
engine_displacement: 3900 in^3
engine_cylinders: 16
inertia_constant: 0.9 s
performance_class: G2
voltage_distortion_max: 8 %
minimum_demand_share: 40 %
day_periods:
  - {id: day, name: Day, day_power: 1000 kW, day_duration: 14 h}
  - {id: night, name: Night, day_power: 620 kW, day_duration: 10 h}
running_cases:
  - {id: outage, name: Outage, sets_out: 0}
  - {id: one_out, name: One set out, sets_out: 1, running_case_load: essential}
  - {id: monthly, name: Monthly test, sets_out: 2, running_case_share: 0 %, load_bank_power: 700 kW}
motors:
  - {id: fire, name: Fire pump motor, motor_load: fire_pump, motor_shaft_power: 150 hp, motor_efficiency: 95 %, motor_power_factor: 0.87,
     motor_code_letter: G, motor_start_method: reactor}
  - {id: chiller, name: Chiller, motor_load: chillers, motor_shaft_power: 700 hp, motor_efficiency: 95.5 %, motor_power_factor: 0.88, motor_code_letter: F,
     motor_start_method: soft_starter}
generating_voltage: 480 V
ampacity_table: nec-310-16-copper-90
conductor_size: 600 kcmil
conductor_table: nec-ch9-table-8-copper
conductor_ambient_temperature: 104 degF
circuits_grouped: 1
grouping_rule: alone
termination_limit: termination_table
termination_table: nec-310-16-copper-75
generator_cable_length: 75 ft
cable_laying: conduit
conduit_table: nec-ch9-table-4-emt
conduit_size: 4 in
impedance_table: nec-ch9-table-9-copper-steel
generator_cable_voltage_drop_max: 1.5 %
neutral_conductors: 1
earth_conductors: 1
earth_conductor_size: 250 kcmil
insulated_conductor_table: nec-ch9-table-5-thhn
containment_fill_max: 40 %
bus_rating_table: us-low-voltage-bus-rating
switchgear_bus_rating_max: 8000 A
generator_cable_price: 96 USD/ft
termination_price: 310 USD
containment_price: 74 USD/ft
switchgear_bays: 9
switchgear_bay_price: 38000 USD
alternator_premium: 0 USD
loss_load_ratio: 55 %
voltage_upkeep_cost_yearly: 3000 USD
generator_cable_fault_duration: 0.2 s
radiator_placement: remote
remote_radiator_airflow: 135000 cfm
discharge_wind_speed: 25 mile/h
restriction_allowed: {value: 0.75 inH2O, note: "room fans, to be bought to it", standing: assumed}
fan_face_area: 26 ft^2
fan_airflow_min: 46000 cfm
door_force_max: 30 lbf
combustion_intake_drop: 12 inH2O
combustion_intake_restriction_max: 25 inH2O
openings:
  - {id: intake, name: Areaway intake, opening_side: intake, gross_area: 110 ft^2, free_area_ratio: 55 %, free_velocity_max: 900 ft/min}
  - {id: discharge, name: Discharge shaft, opening_side: discharge, gross_area: 64 ft^2, free_area_ratio: 60 %}
air_elements:
  - {id: louver, name: Areaway louver, element_opening: intake, element_loss_coefficient: 2.6}
  - {id: attenuator, name: Intake attenuator, element_opening: intake, element_face_area: 80 ft^2, element_rated_drop: 0.18 inH2O,
     element_rated_airflow: 45000 cfm,
     element_insertion_loss: [3 dB, 7 dB, 14 dB, 24 dB, 33 dB, 35 dB, 30 dB, 22 dB, 16 dB]}
  - {id: shaft, name: Discharge shaft, element_opening: discharge, element_face_area: 60 ft^2, element_duct_length: 30 ft, element_elbows: 1,
     element_sound_estimate: duct, element_duct: duct-lined-50-1200}
  - {id: grille, name: Grille of the shaft, element_opening: discharge, element_loss_coefficient: 1.8}
fan_points:
  - {id: free, name: Free delivery, fan_point_airflow: 58000 cfm, fan_point_pressure: 0 inH2O}
  - {id: rated, name: Rated, fan_point_airflow: 46000 cfm, fan_point_pressure: 0.75 inH2O}
  - {id: high, name: Near stall, fan_point_airflow: 34000 cfm, fan_point_pressure: 1.1 inH2O}
heat_sources:
  - {id: panels, name: Switchgear in the room, heat_source_serves: all_sets, heat_source_fixed: 40 MBH}
ambient_margin_min: 6 delta_degF
radiator_fan_pressure: 0.5 inH2O
radiator_fan_load: aux
coolant_loops:
  - {id: jacket, name: Jacket water, loop_carries: jacket, loop_temperature_max: 210 degF, core_rated_temperature_difference: 92 delta_degF,
     loop_pipe_length: 560 ft, loop_pipe_bore: 6.065 in, loop_pipe_loss: 14, loop_core_drop: 4 psi, loop_external_drop_max: 11 psi,
     loop_radiator_height: 180 ft, loop_static_pressure_max: 30 psi, loop_set_volume: 62 gal, loop_radiator_volume: 75 gal, loop_tank_volume: 120 gal,
     loop_flow: 480 gpm}
  - {id: aftercooler, name: Aftercooler, loop_carries: charge_air, loop_temperature_max: 150 degF, loop_limit_place: entering_engine,
     core_rated_temperature_difference: 62 delta_degF, core_position: first, loop_pipe_length: 560 ft, loop_pipe_bore: 5.047 in, loop_pipe_loss: 14,
     loop_core_drop: 4 psi, loop_external_drop_max: 11 psi, loop_radiator_height: 180 ft, loop_static_pressure_max: 30 psi, loop_set_volume: 12 gal,
     loop_radiator_volume: 60 gal, loop_tank_volume: 90 gal, loop_flow: 320 gpm}
exhaust_size_chosen: eighteen
exhaust_pipe_length: 260 ft
exhaust_bends: 5
insulation_thickness: 4 in
exhaust_room_length: 35 ft
exhaust_sizes:
  - {id: sixteen, name: 16 in, exhaust_bore: 15.25 in, exhaust_wall: 0.375 in}
  - {id: eighteen, name: 18 in, exhaust_bore: 17.25 in, exhaust_wall: 0.375 in}
  - {id: twenty, name: 20 in, exhaust_bore: 19.25 in, exhaust_wall: 0.375 in}
exhaust_outlet: upward_open
exhaust_drain: at_low_point
exhaust_back_pressure_max: 27 inH2O
bellows_capacity: 2.5 in
exhaust_anchor_length: 40 ft
building_height: 180 ft
building_width: 140 ft
stack_height: 10 ft
silencer_rated_drop: {value: 6 inH2O, standing: assumed}
exhaust_receptors:
  - {id: penthouse, name: Penthouse outdoor air intake, receptor_distance: 70 ft, separation_code_min: 25 ft}
  - {id: helipad, name: Helipad stair door, receptor_distance: 45 ft, receptor_kind: door}
hours_rule: us_emergency_engine
emission_table: ap-42-diesel-over-600-hp
breather_bore: 3 in
breather_length: 40 ft
crankcase_pressure_max: 2 inH2O
breather_outlet_distance: 15 ft
breather_outlet_distance_min: 10 ft
running_records:
  - {id: monthly, name: Monthly tests, record_reason: test, record_load_ratio: 35 %, record_hours: 12 h, record_sets_out: 2}
  - {id: yearly, name: Yearly run, record_reason: test, record_load_ratio: 75 %, record_hours: 6 h, record_sets_out: 2}
  - {id: outages, name: Outages, record_reason: emergency, record_load_ratio: 50 %, record_hours: 10 h}
pollutants:
  - {id: nox, name: Nitrogen oxides, pollutant_species: nitrogen_oxides, pollutant_mass_max: 20000 lb}
fuel_cold_limit: 10 degF
fuel_feed: day_tank
day_tank_containment: double_wall
alarm_response_time: 20 min
day_tank_overflow_bore: 3 in
day_tank_overflow_head: 1 ft
fuel_inlet_temperature_max: 140 degF
required_autonomy: 96 h
storage_rule: profile_hours
day_tank_volume: 400 gal
fuel_transfer_pump_flow: 12 gpm
indoor_fuel_rule: nfpa_37_2002
fuel_delivery_volume: 6500 gal
fuel_delivery_lead: 18 h
fuel_temperature_min: {value: 45 degF, note: "fuel lies underground", standing: assumed}
fuel_temperature_max: {value: 70 degF, note: "fuel lies underground", standing: assumed}
fuel_points:
  - {id: quarter, name: 25 %, fuel_point_load: 500 kW, fuel_point_rate: 41.5 gal/h}
  - {id: half, name: 50 %, fuel_point_load: 1000 kW, fuel_point_rate: 72.5 gal/h}
  - {id: threequarter, name: 75 %, fuel_point_load: 1500 kW, fuel_point_rate: 105 gal/h}
  - {id: full, name: 100 %, fuel_point_load: 2000 kW, fuel_point_rate: 138 gal/h}
fuel_tanks:
  - {id: main, name: Main tank under the court, fuel_tank_volume: 25000 gal, fuel_tank_containment: double_wall, fuel_tank_fill_bore: 4 in,
     fuel_tank_vent_bore: 2 in, fuel_tank_fill_limit: 90 %}
fuel_pipes:
  - {id: suction, name: Suction from the main tank, fuel_pipe_duty: transfer_suction, fuel_pipe_bore: 2.067 in, fuel_pipe_length: 130 ft,
     fuel_pipe_rise: -4 ft, fuel_pipe_drop_max: 5 psi}
  - {id: supply, name: Supply of an engine, fuel_pipe_duty: engine_supply, fuel_pipe_bore: 1.61 in, fuel_pipe_length: 25 ft, fuel_pipe_drop_max: 4 psi}
  - {id: return, name: Return of an engine, fuel_pipe_duty: engine_return, fuel_pipe_bore: 1.38 in, fuel_pipe_length: 30 ft, fuel_pipe_rise: 6 ft,
     fuel_pipe_drop_max: 4 psi}
starting_method: battery
battery_unit_capacity: 200 Ah
battery_unit_cranking_current: {value: 1400 A, note: label}
battery_units: 4
starters_per_set: 2
starter_current: 800 A
starter_cable_table: nec-ch9-table-8-copper
starter_cable_size: 4/0 AWG
starter_cables: 2
starter_cable_length: 12 ft
starter_voltage_min: 16 V
charger_current: 20 A
direct_voltage_max: 32 V
battery_start_price: 11000 USD
battery_price: 2800 USD
battery_upkeep_cost_yearly: 350 USD
air_start_price: 52000 USD
air_upkeep_cost_yearly: 1800 USD
start_time_max: 10 s
start_stages:
  - {id: confirm, name: Confirm the loss, stage_part: signal, stage_time: 1 s}
  - {id: crank, name: Crank, stage_part: crank, stage_time: 2.5 s}
  - {id: run_up, name: Run-up, stage_part: run_up, stage_time: 4 s}
  - {id: close, name: Close on the dead bus, stage_part: dead_bus, stage_time: 0.6 s}
outdoor_temperature_hourly: weather.epw
heated_room_volume: 42000 ft^3
block_metal_mass: 17500 lb
block_coolant_volume: 62 gal
heating_case_chosen: heaters
heating_case_base: bare
heating_cases:
  - {id: bare, name: Block heaters alone, heating_air_changes: 0.4 1/h, heating_damper_leakage: 1500 cfm}
  - {id: heaters, name: Unit heaters, heating_air_changes: 0.4 1/h, heating_damper_leakage: 400 cfm, heating_set_point: 50 degF,
     heating_room_heater_power: 120 MBH, heating_first_cost: 18000 USD}
block_heater_power: 12 kW
element_replacement_cost: 450 USD
block_warm_up_time_max: 6 h
room_surfaces:
  - {id: ceiling, name: Ceiling under the lobby, room_surface_area: 2800 ft^2, room_surface_transmittance: 0.18 Btu/(h*ft^2*delta_degF),
     surface_faces: inside,
     surface_reduction_rule: mass_law, surface_mass: 90 lb/ft^2, surface_critical_frequency: 110 Hz}
  - {id: walls, name: Walls to the ground and areaway, room_surface_area: 2900 ft^2, room_surface_transmittance: 0.11 Btu/(h*ft^2*delta_degF),
     surface_left_out: in the ground but for the areaway, surface_reduction_rule: mass_law, surface_mass: 150 lb/ft^2, surface_critical_frequency: 80 Hz}
radiator_fan_noise: listed
casing_arrangement: in_v
machines:
  - {id: casing, name: Engine casing, machine_kind: engine_casing}
  - {id: alternator, name: Alternator, machine_kind: alternator}
  - {id: mouth, name: Exhaust, machine_kind: exhaust_mouth, machine_place: elsewhere}
  - {id: turbo, name: Turbocharger inlet, machine_kind: turbocharger_inlet}
  - {id: roof_fans, name: Fans of the roof radiator, machine_kind: axial_fan, machine_place: elsewhere, machine_data: measured}
silencers:
  - {id: muffler, name: Hospital muffler, silencer_class: muffler-high-drop-large}
sound_sources:
  - {id: areaway, name: Areaway, source_kind: opening, source_opening: intake, source_x: 0 ft, source_y: -60 ft, source_height: 1 ft,
     source_follows: installed_sets, source_dimension: 14 ft}
  - {id: shaft_mouth, name: Mouth of the discharge shaft, source_kind: opening, source_opening: discharge, source_follows: installed_sets, source_x: 40 ft,
     source_y: -60 ft, source_height: 12 ft, source_dimension: 11 ft}
  - {id: stacks, name: Exhaust stacks, source_kind: exhaust, source_machine: mouth, source_x: 10 ft, source_y: 20 ft, source_height: 190 ft,
     source_follows: running_sets, source_directivity: stack, source_elevation: 90 deg}
  - {id: radiators, name: Roof radiators, source_kind: machine, source_machine: roof_fans, source_x: -20 ft, source_y: 20 ft, source_height: 186 ft,
     source_follows: running_sets, source_dimension: 20 ft}
receivers:
  - {id: hotel, name: "Hotel across the street, 9th floor", receiver_x: 0 ft, receiver_y: -210 ft, receiver_height: 96 ft}
  - {id: flats, name: "Apartments, top floor", receiver_x: 260 ft, receiver_y: 40 ft, receiver_height: 150 ft}
  - {id: school, name: School yard, receiver_x: -320 ft, receiver_y: -180 ft, receiver_limit_difference: -5 dB}
barriers:
  - {id: parapet, name: Parapet of the roof, barrier_x1: -70 ft, barrier_y1: -50 ft, barrier_x2: 70 ft, barrier_y2: -50 ft, barrier_height: 184 ft,
     barrier_role: building}
sound_weathers:
  - {id: mild, name: Mild, weather_temperature: 50 degF, weather_humidity: 60 %}
  - {id: frost, name: Frost, weather_temperature: 10 degF, weather_humidity: 70 %}
limit_periods:
  - {id: day_test, name: "Day, monthly test", period_running_case: monthly, period_duration: 15 h, period_limit: 55 dBA,
     period_ordinance: "City noise ordinance 12-4"}
exposure_rule: five_decibels
exposure_law: 29 CFR 1910.95
day_exposure_max: 90 dBA
level_without_protection_max: 85 dBA
exposures:
  - {id: round, name: Round during a test, exposure_place: in_room, exposure_running_case: monthly, exposure_duration: 30 min, exposure_protection: double,
     exposure_protector_rating: 29 dB}
  - {id: lobby, name: Guard in the lobby above, exposure_place: outside_surface, exposure_surface: ceiling, exposure_running_case: monthly,
     exposure_duration: 1 h}
set_mounting: springs
speed_under_starter: 130 rpm
set_restraint: snubbers
snubber_gap: 0.25 in
gravity_centre: [0.5 ft, 0 ft]
gravity_centre_height: 4.2 ft
floor_kind: ground
transmissibility_max: 5 %
mounts:
  - {id: m1, name: Front left, mount_place: [7 ft, 2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
  - {id: m2, name: Front right, mount_place: [7 ft, -2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
  - {id: m3, name: Middle left, mount_place: [0 ft, 2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
  - {id: m4, name: Middle right, mount_place: [0 ft, -2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
  - {id: m5, name: Rear left, mount_place: [-7 ft, 2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
  - {id: m6, name: Rear right, mount_place: [-7 ft, -2.6 ft], mount_stiffness: 6200 lbf/in, mount_load_max: 7500 lbf}
connections:
  - {id: exhaust, name: Exhaust bellows, connection_height: 8 ft, connection_movement_allowed: 1.5 in}
  - {id: fuel, name: Fuel hoses, connection_height: 2 ft, connection_movement_allowed: 2 in}
  - {id: bus, name: Cable loops}
set_dry_mass: 36500 lb
oil_fill: 80 gal
block_sides: [22 ft, 9 ft]
block_thickness: 18 in
base_sides: [18.5 ft, 6.5 ft]
block_height: 6 in
bearing_allowable: 4000 lbf/ft^2
seismic_code: ASCE_7-16
design_acceleration: 0.21
roof_height: 180 ft
attachment_height: 0 ft
anchor_spacing: [14 ft, 6 ft]
anchors_total: 8
field_forcing_time: 10 s
set_pickup: 3600 A
slowest_clearing_time: 0.5 s
buses:
  - {id: gen, name: Generator switchgear}
  - {id: crit, name: Critical board}
feeders:
  - {id: crit_feeder, name: Feeder of the critical board, feeder_from_bus: gen, feeder_to_bus: crit, feeder_length: 240 ft, feeder_parallel: 4,
     feeder_size: 500 kcmil, feeder_pickup: 1600 A}
generators:
  - {id: g1, name: Set 1, generator_bus: gen}
  - {id: g2, name: Set 2, generator_bus: gen}
  - {id: g3, name: Set 3, generator_bus: gen}
breakers:
  - {id: gen_main, name: Set breakers, breaker_bus: gen, breaker_breaking_rating: 85 kA}
  - {id: crit_main, name: Main of the critical board, breaker_bus: crit, breaker_breaking_rating: 65 kA}
subtransient_reactance: 13 %
neutral_earthing: solid
earth_electrode_resistance: 1.5 ohm
reverse_relay_setting: 8 %
synchroniser_slip: 0.1 Hz
synchroniser_voltage_difference: 2 %
synchroniser_angle: 8 deg
sharing_mode: isochronous
reactive_mode: cross_current
required_bus_time_max: 20 s
transfer_break_time: 0.5 s
return_break_time_max: 3 s
start_order:
  - {id: s1, name: Set 1}
  - {id: s2, name: Set 2}
  - {id: s3, name: Set 3}
station_loads:
  - {id: block, name: Block heaters, station_load_kind: block_heater, station_load_duty: [60 %, 60 %, 0 %], station_load_power_factor: 1,
     station_load_count: 3}
  - {id: charger, name: Chargers, station_load_kind: charger, station_load_power: 0.8 kW, station_load_count: 3, station_load_duty: [25 %, 25 %, 100 %]}
  - {id: room_fans, name: Room fans, station_load_kind: fan, station_load_power: 11 kW, station_load_count: 3, station_load_duty: [0 %, 0 %, 100 %]}
station_start_dip_max: 5 %
control_conduit_table: control-conduit-emt
control_conductor_table: control-conductors-awg
control_runs:
  - {id: sets, name: Sets to switchgear, control_run_from: set, control_run_to: switchgear, control_run_length: 110 ft, control_run_conductor: 14 AWG}
  - {id: desk, name: Switchgear to security desk, control_run_from: switchgear, control_run_to: attended_place, control_run_length: 320 ft,
     control_run_conductor: 14 AWG}
signals:
  - {id: start, name: Start, signal_function: start, signal_from: switchgear, signal_to: set, signal_run: sets}
  - {id: stop, name: Emergency stop, signal_function: emergency_stop, signal_from: switchgear, signal_to: set, signal_run: sets, signal_rest: energised}
  - {id: alarm, name: Common alarm, signal_function: alarm, signal_from: switchgear, signal_to: attended_place, signal_run: desk, signal_count: 8}
control_conduits_max: 8
test_rule: nfpa-110-2010-tests
test_load_way: bank_hired
bank_rated_power: 2000 kW
bank_rated_voltage: 480 V
bank_hire: 7200 USD
plant_tests:
  - {id: monthly, name: Monthly exercise, test_kind: exercise, test_times_yearly: 12, test_load_ratio: 35 %, test_duration: 45 min, test_sets: 1}
  - {id: yearly, name: Yearly run, test_kind: load_bank, test_times_yearly: 1, test_sets: 1, test_crew_cost: 2400 USD}
bank_steps:
  - {id: half, name: Half, bank_step_ratio: 50 %, bank_step_time: 30 min}
  - {id: threequarter, name: Three quarters, bank_step_ratio: 75 %, bank_step_time: 60 min}
bank_voltage: 480 V
mode_chosen: standby
running_modes:
  - {id: standby, name: Standby, mode_kind: standby, mode_rating_class: ESP}
tasks:
  - {id: oil, name: Oil and filters, task_kind: oil, task_interval_hours: 250 h, task_interval_months: 12, task_duration: 5 h, task_cost: 2100 USD}
  - {id: coolant, name: Coolant, task_kind: coolant, task_interval_months: 24, task_duration: 8 h, task_cost: 3900 USD}
  - {id: battery, name: Starting batteries, task_kind: starting_battery, task_interval_months: 36, task_duration: 2 h, task_cost: 2900 USD}
mission_time: 96 h
mission_reliability_min: 99 %
cost_case_chosen: low
cost_case_base: low
cost_cases:
  - {id: low, name: Three sets at 480 V, cost_capital: 5200000 USD, cost_price_day: 2026-08-01}
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return book_of(tmp_path_factory.mktemp("projects") / "tower", PLANT)


@pytest.fixture(scope="module")
def told(book):
    """Chapter -> text of its page."""
    return {chapter.id: chapter_page(book, chapter.id).text for chapter in catalogue().chapters}


def test_what_an_option_waits_for_is_not_what_it_does_without(told):
    """How warm the room is kept is not known, so nobody knows how often a battery cranks; air does not ask. Neither option leaves the other's rows empty."""
    row = told["starting"].partition("what each option comes to")[2].partition("What each option gives up")[0]
    assert "not part of this option" not in row and "not given: warm surface of a block" in row
    assert "not given: time energised in a year" in told["voltage"].partition("what each option comes to")[2].partition("What each option gives up")[0]


def test_a_rating_that_waits_for_a_spectrum_is_not_one_that_does_not_exist(told):
    assert "does not exist" not in told["noise"]
    assert "What each source still has to lose cannot be told: undecided (not given: sound power, as measured)." in told["noise"]


def test_a_long_pipe_is_no_silencer(book):
    """Eighty metres of bare pipe at a decibel for 1.2 m would take 66 dB out of the exhaust and leave 70 dBA; steel takes some tenths of a decibel a metre."""
    whole = 120 + 10 * np.log10(book["engine_rated_power"].number / 1e3) - 6  # UFC 3-450-02 para 2-7f in kilowatts, turbocharged, at the end of no pipe
    assert book["exhaust_sound_power"].number == pytest.approx(whole - 25 / 1.2)
    assert book["machine_level.mouth"].number > 105


def test_a_drop_without_its_airflow_decides_nothing_about_the_fan(tmp_path):
    """What the louvre takes from the fan is not known, so neither is the flow of the fan nor anything that it cools."""
    bare = book_of(tmp_path / "bare", PLANT.replace("intake, element_loss_coefficient: 2.6", "intake, element_rated_drop: 0.05 inH2O"))
    for name in ("fan_delivery", "fan_curve", "room_rise", "room_ambient", "opening_face", "restriction", "ambient_reserve"):
        assert (bare.check(name).word, bare.check(name).missing) == ("undecided", ("element_rated_airflow.louver",)), name


def test_sets_over_which_the_store_is_counted_are_told(told):
    """In its outage all three sets run, and the store lasts less than the day's load of two says."""
    assert "of its real load (sets running: 2" in told["fuel"]


def test_loads_that_are_handed_over_say_what_is_in_them(book, told):
    """Force times height is not the moment that is handed over: that one holds the overstrength factor of the anchors."""
    twice = 2 * book["seismic_force"].number * book["gravity_centre_height"].number
    assert book["overturning_moment"].number == pytest.approx(twice) and "holds the overstrength factor already" in told["foundation"]


def test_a_filter_that_nobody_lists_may_be_there(told):
    assert "No load is listed that does so." in told["dips"]


def test_a_limit_is_told_though_nothing_can_be_held_against_it_yet(told):
    """The ordinance allows 55 dBA, and the starter needs 16 V, whatever is still to come from makers."""
    sheet, noise, starting = (told[chapter].rpartition(head)[2] for chapter, head in (
        ("testing", "Read on the day"), ("noise", "Checks of this chapter"), ("starting", "Checks of this chapter")))
    assert "limit of each" in sheet.partition("Level at neighbours")[2][:30] and "limit of each" in noise.partition("Level at neighbours")[2][:200]
    assert "at least 16.0 V" in starting.partition("Voltage at the starter")[2][:200]


def test_two_cores_cannot_both_have_all_of_the_cold_air(told, tmp_path):
    """The core behind meets air that 1,220 MBH of the aftercooler have warmed, over 144 lb/s of air (hand calculation); nobody says which it is."""
    assert "as if all of the air met it first" in told["cooling"]
    behind = book_of(tmp_path / "behind", PLANT.replace("loop_carries: jacket, ", "loop_carries: jacket, core_position: behind, "))
    assert "as if all of the air met it first" not in chapter_page(behind, "cooling").text
    assert behind["loop_air_preheat"].element("outage", "jacket").number * 1.8 == pytest.approx(1220e3 / 3600 / 144 / 0.2405, rel=0.02)


def test_three_exhausts_are_not_heard_as_one(tmp_path):
    """Three sets run in an outage: their exhausts are 4.8 dB louder than that of one, 10 lg 3 (hand calculation); a source of one alone is no whole."""
    one = PLANT.replace("source_follows: running_sets, source_directivity: stack", "source_directivity: stack")
    assert one != PLANT
    with pytest.raises(Faults, match="machines outside the room are sources of sound: not so for 'Exhaust' .mouth.; .*source_follows of every set"):
        book_of(tmp_path / "one", one)
    whole = book_of(tmp_path / "whole", PLANT)["source_level"].element
    assert whole("outage", "stacks").number - whole("monthly", "stacks").number == pytest.approx(4.77, abs=0.01)
