"""STANDIN"""

def height_percent(*, major_mm, hole_mm, pitch_mm): return (major_mm-hole_mm)/(1.0825*pitch_mm)*100
