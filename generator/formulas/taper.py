"""STANDIN"""

from math import atan,degrees,cos,sin,radians
def half_angle_deg(*, taper): return degrees(atan(taper/2))
def slide_travel_mm(*, length_mm, taper): return length_mm/cos(atan(taper/2))
