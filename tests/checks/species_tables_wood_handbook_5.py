"""Wood Handbook, FPL-GTR-282 (2021), chapter 5, typed a second time; FPL-GTR-190 (2010) where named.

The tables as printed by the USDA Forest Service, Forest Products Laboratory, rows in alphabetical order.
"""

GREEN_12 = [
    "specific_gravity",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "work_to_maximum_load",
    "impact_bending_drop",
    "compression_parallel",
    "compression_perpendicular",
    "shear_parallel",
    "tension_perpendicular",
    "side_hardness",
]
CANADIAN = [
    "specific_gravity",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "compression_parallel",
    "compression_perpendicular",
    "shear_parallel",
]
WORLD = [
    "specific_gravity",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "work_to_maximum_load",
    "compression_parallel",
    "shear_parallel",
    "side_hardness",
]
WORLD_METRIC = [
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "compression_parallel",
    "shear_parallel",
    "side_hardness",
]

# Table 5-3b, green: -, lbf/in2, 10^6 lbf/in2, in-lbf/in3, in, lbf/in2 (four columns), lbf.
TABLE_5_3B_GREEN = """
alaska_yellow_cedar  0.42  6400  1.14   9.2  27  3050  350   840  330  440
american_basswood    0.32  5000  1.04   5.3  16  2220  170   600  280  250
black_ash            0.45  6000  1.04  12.1  33  2300  350   860  490  520
black_walnut         0.51  9500  1.42  14.6  37  4300  490  1220  570  900
douglas_fir_coast    0.45  7700  1.56   7.6  26  3780  380   900  300  500
eastern_white_pine   0.34  4900  0.99   5.2  17  2440  220   680  250  290
green_ash            0.53  9500  1.40  11.8  35  4200  730  1260  590  870
noble_fir            0.37  6200  1.38   6.0  19  3010  270   800  230  290
oregon_ash           0.50  7600  1.13  12.2  39  3510  530  1190  590  790
port_orford_cedar    0.39  6600  1.30   7.4  21  3140  300   840  180  380
red_spruce           0.37  6000  1.33   6.9  18  2720  260   750  220  340
sitka_spruce         0.37  5700  1.23   6.3  24  2670  280   760  250  350
sugar_maple          0.56  9400  1.55  13.3  40  4020  640  1460    -  970
sweet_birch          0.60  9400  1.65  15.7  48  3740  470  1240  430  970
western_hemlock      0.42  6600  1.31   6.9  22  3360  280   860  290  410
western_white_pine   0.35  4700  1.19   5.0  19  2430  190   680  260  260
white_ash            0.55  9500  1.44  15.7  38  3990  670  1350  590  960
white_spruce         0.33  5000  1.14   6.0  22  2350  210   640  220  270
yellow_birch         0.55  8300  1.50  16.1  48  3380  430  1110  430  780
yellow_poplar        0.40  6000  1.22   7.5  26  2660  270   790  510  440
"""

# Table 5-3b, 12 % moisture, same units.
TABLE_5_3B_DRY = """
alaska_yellow_cedar  0.44  11100  1.42  10.4  29  6310   620  1130  360   580
american_basswood    0.37   8700  1.46   7.2  16  4730   370   990  350   410
black_ash            0.49  12600  1.60  14.9  35  5970   760  1570  700   850
black_walnut         0.55  14600  1.68  10.7  34  7580  1010  1370  690  1010
douglas_fir_coast    0.48  12400  1.95   9.9  31  7230   800  1130  340   710
eastern_white_pine   0.35   8600  1.24   6.8  18  4800   440   900  310   380
green_ash            0.56  14100  1.66  13.4  32  7080  1310  1910  700  1200
noble_fir            0.39  10700  1.72   8.8  23  6100   520  1050  220   410
oregon_ash           0.55  12700  1.36  14.4  33  6040  1250  1790  720  1160
port_orford_cedar    0.43  12700  1.70   9.1  28  6250   720  1370  400   630
red_spruce           0.40  10800  1.66   8.4  25  5540   550  1290  350   530
sitka_spruce         0.40  10200  1.57   9.4  25  5610   580  1150  370   510
sugar_maple          0.63  15800  1.83  16.5  39  7830  1470  2330    -  1450
sweet_birch          0.65  16900  2.17  18.0  47  8540  1080  2240  950  1470
western_hemlock      0.45  11300  1.63   8.3  23  7200   550  1290  340   540
western_white_pine   0.38   9700  1.46   8.8  23  5040   470  1040    -   420
white_ash            0.60  15400  1.74  16.6  43  7410  1160  1910  940  1320
white_spruce         0.36   9400  1.43   7.7  20  5180   430   970  360   410
yellow_birch         0.62  16600  2.01  20.8  55  8170   970  1880  920  1260
yellow_poplar        0.42  10100  1.58   8.8  24  5540   500  1190  540   540
"""

# Table 5-3a, green, without gravities: kPa, MPa, kJ/m3, mm, kPa (four columns), N.
TABLE_5_3A_GREEN = """
alaska_yellow_cedar  44000   7900   63   690  21000  2400   5800  2300  2000
american_basswood    34000   7200   37   410  15300  1200   4100  1900  1100
black_ash            41000   7200   83   840  15900  2400   5900  3400  2300
black_walnut         66000   9800  101   940  29600  3400   8400  3900  4000
douglas_fir_coast    53000  10800   52   660  26100  2600   6200  2100  2200
eastern_white_pine   34000   6800   36   430  16800  1500   4700  1700  1300
green_ash            66000   9700   81   890  29000  5000   8700  4100  3900
noble_fir            43000   9500   41   480  20800  1900   5500  1600  1300
oregon_ash           52000   7800   84   990  24200  3700   8200  4100  3500
port_orford_cedar    45000   9000   51   530  21600  2100   5800  1200  1700
red_spruce           41000   9200   48   460  18800  1800   5200  1500  1600
sitka_spruce         39000   8500   43   610  18400  1900   5200  1700  1600
sugar_maple          65000  10700   92  1020  27700  4400  10100     -  4300
sweet_birch          65000  11400  108  1220  25800  3200   8500  3000  4300
western_hemlock      46000   9000   48   560  23200  1900   5900  2000  1800
western_white_pine   32000   8200   34   480  16800  1300   4700  1800  1200
white_ash            66000   9900  108   970  27500  4600   9300  4100  4300
white_spruce         34000   7900   41   560  16200  1400   4400  1500  1200
yellow_birch         57000  10300  111  1220  23300  3000   7700  3000  3600
yellow_poplar        41000   8400   52   660  18300  1900   5400  3500  2000
"""

# Table 5-3a, 12 % moisture, same units.
TABLE_5_3A_DRY = """
alaska_yellow_cedar   77000   9800   72   740  43500   4300   7800  2500  2600
american_basswood     60000  10100   50   410  32600   2600   6800  2400  1800
black_ash             87000  11000  103   890  41200   5200  10800  4800  3800
black_walnut         101000  11600   74   860  52300   7000   9400  4800  4500
douglas_fir_coast     85000  13400   68   790  49900   5500   7800  2300  3200
eastern_white_pine    59000   8500   47   460  33100   3000   6200  2100  1700
green_ash             97000  11400   92   810  48800   9000  13200  4800  5300
noble_fir             74000  11900   61   580  42100   3600   7200  1500  1800
oregon_ash            88000   9400   99   840  41600   8600  12300  5000  5200
port_orford_cedar     88000  11700   63   710  43100   5000   9400  2800  2800
red_spruce            74000  11400   58   640  38200   3800   8900  2400  2200
sitka_spruce          70000  10800   65   640  38700   4000   7900  2600  2300
sugar_maple          109000  12600  114   990  54000  10100  16100     -  6400
sweet_birch          117000  15000  124  1190  58900   7400  15400  6600  6500
western_hemlock       78000  11300   57   580  49000   3800   8600  2300  2400
western_white_pine    67000  10100   61   580  34700   3200   7200     -  1900
white_ash            106000  12000  115  1090  51100   8000  13200  6500  5900
white_spruce          65000   9600   53   510  35700   3000   6700  2500  1800
yellow_birch         114000  13900  143  1400  56300   6700  13000  6300  5600
yellow_poplar         70000  10900   61   610  38200   3400   8200  3700  2400
"""

# Table 5-4b, Canadian-grown, green: -, lbf/in2, 10^6 lbf/in2, lbf/in2 (three columns).
TABLE_5_4B_GREEN = """
alaska_yellow_cedar  0.42  6600  1.34  3240  350  880
douglas_fir_coast    0.45  7500  1.61  3610  460  920
eastern_white_pine   0.36  5100  1.18  2590  240  640
red_spruce           0.38  5900  1.32  2810  270  810
sitka_spruce         0.35  5400  1.37  2560  290  630
western_hemlock      0.41  7000  1.48  3580  370  750
western_white_pine   0.36  4800  1.19  2520  240  650
white_spruce         0.35  5100  1.15  2470  240  670
"""

# Table 5-4b, Canadian-grown, 12 % moisture, without gravity.
TABLE_5_4B_DRY = """
alaska_yellow_cedar  11600  1.59  6640  690  1340
douglas_fir_coast    12800  1.97  7260  870  1380
eastern_white_pine    9500  1.36  5230  490   880
red_spruce           10300  1.60  5590  550  1330
sitka_spruce         10100  1.63  5480  590   980
western_hemlock      11800  1.79  6770  660   940
western_white_pine    9300  1.46  5240  470   920
white_spruce          9100  1.45  5360  500   980
"""

# Table 5-5b, green: -, lbf/in2, 10^6 lbf/in2, in-lbf/in3, lbf/in2 (two columns), lbf.
TABLE_5_5B_GREEN = """
african_mahogany  0.42  7400  1.15  7.1  3730   931  640
balsa             0.16     -     -    -     -     -    -
true_mahogany     0.45  9000  1.34  9.1  4340  1240  740
"""

# Table 5-5b, 12 % moisture, without gravity.
TABLE_5_5B_DRY = """
african_mahogany  10700   1.4  8.3  6460  1500  830
balsa              3140  0.49  2.1  2160   300    -
true_mahogany     11500   1.5  7.5  6780  1230  800
"""

# Table 5-5a of the 2010 edition, green: kPa, MPa, kPa (two columns), N.
TABLE_5_5A_GREEN = """
african_mahogany  51000  7900  25700  6400  2800
true_mahogany     62100  9200  29900  8500  3300
"""

# Table 5-5a of the 2010 edition, 12 % moisture.
TABLE_5_5A_DRY = """
african_mahogany  73800   9700  44500  10300  3700
balsa             21600      -      -      -     -
true_mahogany     79300  10300  46700   8500  3600
"""

# Table 5-7, tension along the grain, green: lbf/in2.
TABLE_5_7 = """
eastern_white_pine  10600
port_orford_cedar   11400
sitka_spruce         8600
sugar_maple         15700
western_hemlock     13000
yellow_poplar       15900
"""

# Table 5-13, moisture at which drying begins to matter: %. The table also has woods that the library lacks.
TABLE_5_13 = """
douglas_fir_coast  24
red_spruce         27
sitka_spruce       27
western_hemlock    28
white_ash          24
yellow_birch       27
"""
