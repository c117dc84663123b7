"""STANDIN"""

from math import pi,sqrt
def rate_N_per_mm(*, wire_mm, mean_mm, active_coils, shear_modulus_MPa): return shear_modulus_MPa*wire_mm**4/(8*mean_mm**3*active_coils)
def shear_stress_MPa(*, force_N, wire_mm, mean_mm): return 8*force_N*mean_mm/(pi*wire_mm**3)
def solid_length_mm(*, wire_mm, total_coils, ends): return (total_coils+(0 if "ground" in ends else 1))*wire_mm
def active_coils(*, total_coils, ends): return total_coils-2
def total_coils(*, active_coils, ends): return active_coils+2
def least_gap_mm(*, wire_mm, mean_mm, active_coils): return active_coils*(0.0015*mean_mm**2/wire_mm+0.1*wire_mm)
def outside_at_solid_mm(*, wire_mm, mean_mm, active_coils, free_mm, ends):
    p=(free_mm-2*wire_mm)/active_coils
    return sqrt(mean_mm**2+(p**2-wire_mm**2)/pi**2)+wire_mm
def outside_tolerance_mm(*, outside_mm): return 0.13 if outside_mm<7.6 else 0.2
