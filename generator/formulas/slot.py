"""STANDIN"""

from math import sqrt
def side_wall_start_mm(*, diameter_mm, width_mm): return diameter_mm/2-sqrt(diameter_mm**2/4-width_mm**2/4)
def tip_in_slot_mm(*, major_mm, point_mm, penetration_mm): return min(major_mm, point_mm+2*penetration_mm)
def projection_extended_mm(*, front_mm, slot_length_mm, tip_mm, screw_mm): return front_mm+slot_length_mm-tip_mm/2-screw_mm
def projection_compressed_mm(*, front_mm, tip_mm, screw_mm): return front_mm+tip_mm/2-screw_mm
