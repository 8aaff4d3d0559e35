"""The formulas behind every figure, with their sources, as the report lists them."""

from __future__ import annotations

from planner.report.content.blocks import Block, Column, Heading, Table, Text
from planner.report.language import tr

__all__ = ["FORMULAS", "formula_list"]

FORMULAS: tuple[tuple[str, str, str], ...] = (
    (
        "Bands",
        "One-third octaves with exact base-ten mids, 20 Hz to 20 kHz; energy sums 10 log Σ 10^(L/10)",
        "IEC 61260-1:2014",
    ),
    ("Weighting", "A and C by the poles of the standard", "IEC 61672-1:2013, annex E"),
    ("Programme", "Pink noise, or the simulated programme signal", "IEC 60268-1:1985, table II"),
    (
        "Amplifier",
        "Vclip = √(2PR), Iclip = √(2P/R) of the rating in use; voltage headroom = "
        "20 log(Vclip·(1 + Zout/R)/Epeak), current headroom = 20 log(Iclip/Ipeak)",
        "Ohm's law; the peak of a sine is √2 times its rms",
    ),
    ("Watts needed", "Rating of the tap × 10^(−headroom of the amplifier/10)", "Definition of the decibel"),
    (
        "Load",
        "Volts at the terminals E·Zl/(Zl + Zout), at the loudspeaker E·Z/(Z + cable + Zout); "
        "impedance by table or from driver parameters",
        "Ohm's law; Small, JAES 20 (1972)",
    ),
    ("Cable", "Copper by gauge or area, 0.017241 Ω mm²/m", "ASTM B258; IEC 60028"),
    (
        "Crossover",
        "Magnitude 1/(1 + (f/fc)^n), n = slope/6: −6 dB at the edge, neighbours sum flat in amplitude",
        "Common practice, no published source",
    ),
    (
        "Sensitivity",
        "Level at 1 m for √(nominal ohm) volts, or for 2.83 V",
        "IEC 60268-5, 20.3",
    ),
    (
        "Directivity",
        "Horn: Q from its coverage, which widens as 1/f below 25 400/(mouth × angle), in m and degrees; "
        "diaphragm: piston in a baffle",
        "Molloy, JASA 20 (1948); Keele, 51st AES Convention (1975); Beranek and Mellow, Acoustics",
    ),
    (
        "Off axis",
        "Horn: −6.02·[(θh/½H)² + (θv/½V)²] dB, not below −20 dB; diaphragm: 20 log|2J1(x)/x|; "
        "dipole: 20 log|cos θ|",
        "Horn: common practice, no published source; Beranek and Mellow; Kuttruff, Room Acoustics",
    ),
    (
        "Baffle step",
        "gain² = (1 + 4x²)/(1 + x²)/4 with x² = (f/f3)²/2 and f3 = 115/width",
        "Olson (1950; JAES 17, 1969), smoothed to a first-order shelf",
    ),
    (
        "Direct sound",
        "−20 log r, off-axis loss, air loss; stands add as Σp² + 2ρ·Σpᵢpⱼ",
        "ISO 9613-2 (divergence); sum of partly coherent signals",
    ),
    ("Air", "Attenuation of pure tones; speed of sound 343.2·√(T/293.15) m/s", "ISO 9613-1:1993"),
    (
        "Reverberation",
        "T60 = 24 ln10·V/(c·S·x), x = −ln(1 − ᾱ) + 4mV/S; a measured T60 stands in its place where given",
        "Eyring, JASA 1 (1930); Kuttruff, Room Acoustics",
    ),
    (
        "Reverberant sound",
        "L1 + 10 log(16π/(Q·S·x)) − 4.34·x·r·S/(4V); of a peak of length τ only 1 − exp(−13.8 τ/T60) "
        "has built up",
        "Barron and Lee, JASA 84 (1988); Kuttruff, Room Acoustics",
    ),
    (
        "Low frequencies",
        "Modal Green's function of the rigid-walled shoebox, damping 3 ln10/T60, energy mean over 24 lines "
        "a band and a head-sized neighbourhood, faded out over the octave about 2000·√(T60/V)",
        "Kuttruff, Room Acoustics, chapter 3; the fade and the leak: common practice, no published source",
    ),
    (
        "Loudspeaker power",
        "V²/nominal ohm against long-term power, (crest·V)²/nominal ohm against peak power, which is four "
        "times long-term unless given",
        "AES2; IEC 60268-5",
    ),
    (
        "Excursion",
        "Crest × energy sum of 4π·p/(ρ·ω²·Sd), 2π in a wall; of a vented box the diaphragm's share",
        "Beranek and Mellow, Acoustics, chapter 4; Small, JAES 21 (1973)",
    ),
    (
        "Noise",
        "Hum at harmonics of the mains and white hiss, through the loudspeaker to the seat; heard above the "
        "higher of hearing threshold and room noise in its third octave",
        "ISO 226:2003; ISO 389-7:2005; ANSI/ASA S12.2-2019; the rule: common practice, no published source",
    ),
    ("Phono", "Playback curve; highest peaks 12 dB above 5 cm/s", "IEC 60098; peaks: common practice"),
    (
        "Hearing",
        "8 h/2^((L − 85)/3) a day, 40 h/2^((L − 80)/3) a week; peaks of 135, 137 and 140 dB(C)",
        "NIOSH 98-126; WHO/ITU-T H.870; directive 2003/10/EC",
    ),
    ("Floor", "Mass × 9.80665 m/s² over the footprint", "EN 1991-1-1 table 6.2; IRC table R301.5"),
    (
        "Certainty",
        "Stratified draws of all inputs that have a tolerance (a Latin hypercube)",
        "Tolerances: common practice, no published source",
    ),
)
"""Quantity, formula and source."""


def formula_list() -> tuple[Block, ...]:
    """All of them, one below the other."""
    columns = (
        Column(tr("Quantity"), side="left"),
        Column(tr("Formula"), side="left"),
        Column(tr("Source"), side="left"),
    )
    rows = tuple((tr(name), tr(formula), tr(source)) for name, formula, source in FORMULAS)
    text = tr("Levels are in dB re 20 µPa, log is to base ten, watts are continuous sine watts.")
    return (Heading(tr("Formulas and sources"), 1), Text(text, "note"), Table(columns, rows))
