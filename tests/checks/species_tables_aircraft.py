"""The aircraft documents typed a second time, each block under the document and table it was typed from."""

# ANC-19 (1943) Table 2-13: least specific gravity, oven-dry weight on oven-dry volume; rings per inch.
# Douglas-fir of class N; class L stands apart below.
ANC_19_TABLE_2_13 = """
spruces             0.36  6
douglas_fir_coast   0.45  8
noble_fir           0.36  6
western_hemlock     0.40  6
port_orford_cedar   0.40  8
eastern_white_pine  0.34  6
western_white_pine  0.38  6
yellow_poplar       0.38  6
"""
# Class L: least, greatest, rings per inch.
ANC_19_TABLE_2_13_CLASS_L = """
douglas_fir_coast  0.38  0.47  6
"""

# ANC-19 Tables 2-2 (maple) and 2-3 (birches): least, average and greatest gravity observed; oven-dry weight.
OBSERVED_GREEN_VOLUME = """
sugar_maple   0.49  0.56     -
sweet_birch   0.53  0.60  0.68
yellow_birch  0.48  0.55  0.61
"""
OBSERVED_DRY_VOLUME = """
sweet_birch   0.60  0.71  0.81
yellow_birch  0.55  0.66  0.74
"""

# ANC-19 sec. 2.20, 2.200 and 2.204, worked examples: average and least weight at 15 % [lb/ft3].
WEIGHTS = """
spruces    27.2     -
noble_fir     -  23.9
"""
# Change of weight per 1 % of moisture: lb/ft3.
WEIGHT_CHANGES = """
spruces    0.120
noble_fir  0.095
"""
# The same in g/cm3.
WEIGHT_CHANGE_METRIC = """
two_birches  0.00140
"""

# ANC-18 (June 1944) Table 2-2: gain per 1 % of moisture lost, %.
STRENGTH_CHANGES = [
    "bending_limit",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "work_to_maximum_load",
    "compression_parallel",
    "compression_perpendicular",
    "shear_parallel",
    "side_hardness",
]
ANC_18_TABLE_2_2 = """
african_mahogany    3.2  2.5  1.6  -0.6  3.2  3.0  0.4  3.1
american_basswood   6.8    -    -   2.6  6.5  6.6  4.2  4.2
port_orford_cedar   5.7  5.2  1.6   1.7  6.2  6.7  2.2  2.8
eastern_white_pine  5.6  4.8  2.0   2.1  5.7  5.6  2.2  2.2
noble_fir           5.1  4.7  1.9   3.2  6.1  5.5  2.3  3.1
two_spruces         4.7  3.9  1.7   2.0  5.3  4.3  2.6  2.4
sugar_maple         5.2  4.4  1.4   1.9  5.7  7.1  3.9  3.4
true_mahogany       2.6  1.3  0.8  -2.9  2.5  3.9    -    -
western_hemlock     4.7  3.4  1.4   0.7  5.0  3.7  2.5  2.0
western_white_pine  5.3  5.1  2.2   4.8  6.5  5.2  2.5  1.5
yellow_poplar       5.0  4.6  2.7   1.9  6.7  4.8  3.3  2.4
"""
# Rows whose name is lost in the scan and recalled.
ANC_18_TABLE_2_2_RECALLED = """
douglas_fir_coast  4.5  3.7  1.8   1.9  5.5  5.0  1.7  2.9
two_birches        6.0  4.8  2.0   1.7  6.1  5.6  3.6  3.3
black_walnut       5.8  3.7  1.4  -2.6  4.8  6.3  1.0  1.0
commercial_ash     4.1  3.5  1.4   0.4  4.7  4.8  2.9  2.4
white_spruce       5.8  4.8  1.9   2.1  6.5  5.7  3.7  3.3
"""

# ANC-18 (1951) Table 2-6, p. 22, as quoted in a builders' mailing list: design values at 15 %.
# lb/ft3, then lbf/in2.
TABLE_2_6 = """
spruces            28  5300  3530  990   9400
douglas_fir_coast  33  5900  4220  950  10900
western_hemlock    30  6200  4080  860  11000
"""

# ANC-18 as quoted on a builders' forum: average and least gravity on oven-dry volume, then modulus of rupture
# at 15 %.
QUOTED = """
sitka_spruce        0.40  0.36   9400
eastern_white_pine  0.38  0.34   8700
douglas_fir_coast   0.51  0.45  11500
"""

# 1944-type design table, from memory; no copy could be read. Gravities on oven-dry volume, the rest at 15 %:
# lb/ft3, lbf/in2 (two columns), 10^3 lbf/in2, in-lbf/in3, lbf/in2 (four columns), lbf.
RECALLED_COLUMNS = [
    "specific_gravity_average",
    "specific_gravity_minimum",
    "weight_average",
    "bending_limit",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "work_to_maximum_load",
    "compression_parallel_limit",
    "compression_parallel",
    "compression_perpendicular",
    "shear_parallel",
    "side_hardness",
]
RECALLED = """
american_basswood   0.40  0.36  26  5600   8600  1250   6.6  3370  4500   620   720   370
douglas_fir_coast      -     -  34  8000      -  1700   8.1  5600  7000  1300   810   620
port_orford_cedar   0.44     -   -     -  11000  1520     -  4880  6100     -   760     -
two_birches         0.66  0.58  44  9500  15500  1780  18.2  5480  7300  1590  1300  1100
eastern_white_pine     -     -  26     -      -  1140     -  3840  4800     -   640   380
noble_fir           0.40     -   -     -      -     -     -     -     -     -   690     -
spruces                -     -  27  6200      -  1300   7.8  4000  5000   840   750   440
commercial_ash      0.62  0.56  41  8900  14800  1460  14.2  5250  7000  2250  1380  1150
"""

# Building with Wood, part 1 (EAA Sport Aviation, December 1998), figure 1: rings per inch, slope of grain.
CHART_1998 = """
sitka_spruce        6  1:15
douglas_fir_coast   8  1:15
eastern_white_pine  6  1:15
western_hemlock     6  1:15
"""

# AC 43.13-1B Table 1-1, column 3: slope of grain.
AC_43_13_TABLE_1_1 = """
spruces             1:15
douglas_fir_coast   1:15
noble_fir           1:15
western_hemlock     1:15
eastern_white_pine  1:15
port_orford_cedar   1:15
yellow_poplar       1:15
"""
