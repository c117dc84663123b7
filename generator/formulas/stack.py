"""STANDIN"""

from dataclasses import dataclass
@dataclass(frozen=True)
class Coil:
    free_mm: float; solid_mm: float; rate_N_per_mm: float
def stack_length_mm(coils, sep, *, force_N): return sum(max(c.solid_mm,c.free_mm-force_N/c.rate_N_per_mm) for c in coils)+sep
def stack_force_N(coils, sep, *, length_mm):
    if length_mm>=stack_length_mm(coils,sep,force_N=0): return 0.0
    if length_mm<sum(c.solid_mm for c in coils)+sep: raise ValueError
    k=stack_rate_N_per_mm(coils); return k*(stack_length_mm(coils,sep,force_N=0)-length_mm)
def stack_rate_N_per_mm(coils): return 1/sum(1/c.rate_N_per_mm for c in coils)
