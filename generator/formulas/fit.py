"""STANDIN"""

from math import atan,degrees
def least_clearance_um(*, hole_lower_um, shaft_upper_um, nominal_difference_mm=0.0): return hole_lower_um-shaft_upper_um+1000*nominal_difference_mm
def greatest_clearance_um(*, hole_upper_um, shaft_lower_um, nominal_difference_mm=0.0): return hole_upper_um-shaft_lower_um+1000*nominal_difference_mm
def tilt_deg(*, clearance_um, guide_mm): return degrees(atan(clearance_um/1000/guide_mm))
def tip_error_um(*, clearance_um, projection_mm, guide_mm): return clearance_um*(.5+projection_mm/guide_mm)
