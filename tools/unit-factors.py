#!/usr/bin/env python3
"""Writes tests/data/unit_factors.tsv: factors between unit spellings as UDUNITS-2 and GNU units compute them,
an independent check of the unit table. Needs libudunits2 and the program units; run it in the project's folder:

    python3 tools/unit-factors.py > tests/data/unit_factors.tsv
"""
import ctypes
import subprocess

# Spelling and target in a form both our table and UDUNITS-2 read; the third is for GNU units where it differs.
# The acre is left out: UDUNITS-2 has the one of the US survey.
PAIRS = [
    ("m/s", "km/h", "km/hour"), ("m s-1", "km/h", "km/hour"), ("m.s-1", "km/h", ""), ("m s^-1", "m/s", ""),
    ("kg m s-2", "N", ""), ("kg m2 s-2", "J", ""), ("kg m2 s-3", "W", ""), ("kg m-1 s-2", "Pa", ""), ("N m", "J", ""),
    ("kW h", "MJ", "MJ"), ("J/s", "mW", ""), ("V A", "W", ""), ("V/A", "ohm", ""), ("A s", "C", ""), ("C/V", "uF", ""),
    ("Wb/m2", "T", ""), ("J kg-1 K-1", "J/(g K)", ""), ("W m-2", "mW/cm2", ""), ("mol m-3", "mmol/L", ""),
    ("mol dm-3", "mol m-3", ""), ("g cm-3", "kg m-3", ""), ("g/cm3", "kg/m3", ""), ("kg/m^3", "g/L", ""),
    ("mm", "km", ""), ("um", "nm", ""), ("nm", "pm", ""), ("cm2", "m2", ""), ("mm3", "cm3", ""), ("dm3", "L", ""),
    ("ml", "cm3", ""), ("L", "m3", ""), ("ha", "m2", "m^2"), ("t", "kg", "kg"), ("min", "s", ""), ("h", "min", "min"),
    ("d", "h", "hour"), ("day", "s", ""), ("week", "s", ""), ("hour", "s", ""), ("minute", "s", ""), ("second", "ms", ""),
    ("metre", "cm", ""), ("meters", "km", ""), ("kilometre", "m", ""), ("millimetres", "m", ""), ("kilograms", "g", ""),
    ("litre", "m3", ""), ("newtons", "kN", ""), ("joules", "kJ", ""), ("watts", "kW", ""), ("pascals", "hPa", ""),
    ("volts", "mV", ""), ("amperes", "mA", ""), ("hertz", "kHz", ""), ("bar", "kPa", ""), ("mbar", "Pa", ""),
    ("atm", "Pa", ""), ("mmHg", "Pa", ""), ("knot", "m/s", ""), ("inch", "mm", ""), ("foot", "m", ""), ("mile", "km", ""),
    ("degree", "rad", "radian"), ("rad", "mrad", ""), ("percent", "ppm", ""), ("kPa", "hPa", ""),
    ("MPa", "N/mm2", ""), ("GHz", "MHz", ""), ("TW", "GW", ""), ("kat", "umol/s", "micromol/s"), ("Gy", "J/kg", ""),
    ("lm", "cd sr", ""), ("lx", "lm/m2", ""), ("F", "C/V", ""), ("H", "Wb/A", ""), ("S", "A/V", ""), ("Hz", "s-1", ""),
    ("uW cm-2", "W m-2", ""), ("km2", "ha", "hectare"), ("m3/s", "L/min", ""), ("ug/L", "mg m-3", ""), ("mg dm-3", "g m-3", ""),
]

lib = ctypes.CDLL("libudunits2.so.0")
for name in ("ut_read_xml", "ut_parse", "ut_get_converter"):
    getattr(lib, name).restype = ctypes.c_void_p
lib.cv_convert_double.restype = ctypes.c_double
lib.cv_convert_double.argtypes = [ctypes.c_void_p, ctypes.c_double]
lib.ut_set_error_message_handler.argtypes = [ctypes.c_void_p]
lib.ut_set_error_message_handler(ctypes.cast(lib.ut_ignore, ctypes.c_void_p))
system = ctypes.c_void_p(lib.ut_read_xml(None))


def udunits(text, target):
    a = lib.ut_parse(system, text.encode(), 2)
    b = lib.ut_parse(system, target.encode(), 2)
    converter = lib.ut_get_converter(ctypes.c_void_p(a), ctypes.c_void_p(b)) if a and b else None
    return lib.cv_convert_double(converter, 1.0) if converter else None


def gnu(text, target):
    run = subprocess.run(["units", "-t", "-o", "%.17g", text, target], capture_output=True, text=True)
    return run.stdout.strip() if run.returncode == 0 else "-"


def for_gnu(text):
    import re
    words = {"uF": "microF", "um": "micrometer", "ug": "microg", "uW": "microwatt", "umol": "micromol", "h": "hour",
             "L": "liter", "ml": "milliliter", "mmol": "millimol", "t": "tonne", "ha": "hectare", "d": "day",
             "sr": "steradian", "rad": "radian", "mrad": "milliradian", "kat": "katal"}
    text = re.sub(r"(?<=[A-Za-z])(-?\d)", r"^\1", text.replace(".", " "))
    return re.sub(r"[A-Za-z]+", lambda m: words.get(m.group(0), m.group(0)), text)


print("# Factors between unit spellings: 1 `text` = factor `target`.")
print("# Sources: computed by UDUNITS-2 2.2.28 (column udunits, same spellings) and by GNU units 2.22 (column gnu, with its own spellings; - = it cannot read them).")
print("# Status: computed; written by tools/unit-factors.py. mmHg and degree are inexact, hence 1e-9.")
print("text\ttarget\tudunits\tgnu")
for text, target, gnu_target in PAIRS:
    factor = udunits(text, target)
    if factor is None:
        raise SystemExit(f"UDUNITS-2 does not read {text} or {target}")
    print(f"{text}\t{target}\t{factor!r}\t{gnu(for_gnu(text), gnu_target or for_gnu(target))}")
