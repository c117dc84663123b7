"""STANDIN"""

from math import pi,sqrt
def impact_force_N(*, energy_J, stiffness_N_per_mm=1e4): return sqrt(2*energy_J*stiffness_N_per_mm*1000)
def pin_shear_MPa(*, force_N, diameter_mm): return force_N/(pi*diameter_mm**2/4)
