"""STANDIN"""

from math import tan,radians
def cone_length_mm(*, diameter_mm, flat_mm, angle_deg): return (diameter_mm-flat_mm)/2/tan(radians(angle_deg/2))
def countersink_depth_mm(*, mouth_mm, pilot_mm, angle_deg): return (mouth_mm-pilot_mm)/2/tan(radians(angle_deg/2))
def drill_point_mm(*, diameter_mm, angle_deg=118.0): return diameter_mm/2/tan(radians(angle_deg/2))
def overlap_mm(*, circle_mm, flat_mm, angle_deg): return (circle_mm-flat_mm)/2/tan(radians(angle_deg/2))
