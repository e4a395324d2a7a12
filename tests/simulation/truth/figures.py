"""The truth's own figures. Where the product has a default, these come from another source, or lie all about it.

Each says where it is from. "Recalled" was not read for this table; "judgement" has no source.
"""

from __future__ import annotations

# Staying alive, kJ a day per kg^0.75. A farm's level is drawn about the middle of what was published: GfE 2003 450,
# Sahlu 2004 pooled 462, Ringdorfer 2018 434, NRC 1981 424, Tovar-Luna 2009 494, 472, 412, Luo 2004 501.
ALIVE_KJ, ALIVE_SD_KJ, ALIVE_LOW_KJ, ALIVE_HIGH_KJ = 458.0, 25.0, 410.0, 498.0
# Growing dairy does: Almeida 2015 412 (Saanen), Luo 2004 data 574; a farm's level between them.
GROWING_KJ = (430.0, 560.0)
# Of one doe about her farm's level, SD: judgement.
DOE_ALIVE_SD = 0.06

# Growth: NRC 1981 30.3 kJ/g and pregnant yearlings 28.5; speed is judgement.
GAIN_KJ_G = (28.5, 30.3)

# Fetus: Robinson 1977 (ewes), ln kg = 2.419 - 17.574 exp(-0.01976 day); his ewes went 147 days.
FETUS_DEPTH, FETUS_RATE, FETUS_TERM_D = 17.574, 0.01976, 147.0
# Energy of the womb, MJ per kg of fetus, rising to term, and a fifth more for membranes and udder: recalled.
WOMB_MJ_KG, WOMB_MJ_KG_RISE, WOMB_MORE = 3.2, 2.0, 1.2
# What of the feed's energy ends in the womb: Robinson 1980 measured 0.14 (low plane) and 0.11 (high); the German and
# French allowances of month 5 imply twice as much, so farms reach beyond him.
WOMB_EFFICIENCY = (0.11, 0.16)
# Kids: 608 does in Georgia, mean 3.24 kg, 0.45 less for each kid more, read as of does of 55 kg and 1.85 kids; dwarf
# kids 1.0 to 1.5 kg of does of 30 kg (Nigerian Dwarf Goat Society of Australia). By weight^0.75: judgement.
KID_KG, KID_LESS_KG, KID_OF_DOE_KG, DWARF_KID = 3.62, 0.45, 55.0, 0.75
KID_SD = 0.13
WOMB_FETUS_SHARE = 0.60  # Corriedale, day 150
# Days carried: 150.6 SD 2.6, 0.92 fewer for each kid more (608 does); dwarf 145 to 153 (breed pages).
CARRIED_D = {"standard": 151.5, "mini": 148.5}
CARRIED_LESS_D, CARRIED_SD_D = 0.9, 2.6

# Milk: AFRC 1998, MJ/kg = 0.0376 fat + 0.0209 protein + 0.948 (g/kg); kl 0.589 (Luo 2004) to 0.62 (Fernandez 2019).
MILK_FAT, MILK_PROTEIN, MILK_REST = 0.376, 0.209, 0.948
KL = (0.58, 0.63)
# Peak at day 40, then 7 to 12 % less a month: recalled from milk records.
PEAK_DIM, DECLINE = 40, (0.07, 0.12)

# Appetite, g dry matter per kg^0.75 of an empty grown doe: NRC 1981 maintenance tables 51 (30 kg) to 53 (60 kg),
# Indian pregnant does 76, Toerien 1999 69 on day 135. A farm's level about their middle.
DRY_EATS_G, DRY_EATS_SD_G, DRY_EATS_LOW_G, DRY_EATS_HIGH_G = 63.0, 6.0, 50.0, 76.0
DOE_EATS_SD = 0.08  # judgement
CARRYING_EATS_G = 4.5  # West African Dwarf does, more in pregnancy
GROWING_EATS = (1.08, 1.22)  # times that in a growing doe: ceilings of 75 to 80 g are given for doelings (judgement)
# kg dry matter per kg of milk of 3.1 MJ: INRA 0.24 (recalled) to Tarr's 5 % of body weight at about 4 kg (0.41).
MILK_EATS_KG, MILK_UNIT_MJ = (0.28, 0.41), 3.1
# Near kidding: 20 % less in four weeks (Swiss), more than 35 % in three (Goat Science and Production); twins less than
# singles (Saanen and Oberhasli slaughter study), by how much is judgement.
FALL, FALL_D = (0.15, 0.38), (18, 30)
FALL_BY_LITTER = {1: 0.75, 2: 1.0, 3: 1.15, 4: 1.2}
# Fresh: somewhat less than her milk asks for two months (Swiss: 10 %), a quarter less at kidding: judgement.
FRESH_EATS, FRESH_DIM, KIDDED_EATS, KIDDED_DIM = (0.84, 0.97), 58, 0.74, 18
# Coarse hay fills her: forage laboratories' 120/NDF, to a power, about hay of 62 % fibre (judgement).
FILL_NDF, FILL_POWER, FILL_MOST, FILL_LEAST = 620.0, 0.6, 1.15, 0.80
# A doe not in milk stops nearer her need than her gut would: the share of the way beyond need she goes (judgement).
PAST_NEED = 0.5
THIN_EATS = 0.10  # per unit of condition under 3, fat does eat less: judgement

# Condition. Ewe texts 0.10 to 0.12 of her weight a unit, Merino 0.19; MJ a kilogram gained 28.5 (Sahlu 2004) to 53
# (AFRC, dry), lost 24 to 34 (16 to 32 MJ/kg in Alpine tissue, Ngwa 2009, by 0.84/0.70).
UNIT_SHARE, GAIN_MJ, LOSS_MJ = (0.11, 0.19), (28.5, 53.0), (24.0, 34.0)
CONDITION_LOW, CONDITION_HIGH = 1.3, 4.8

# Rank at the feeder, SD of its logarithm over the does of a farm: judgement.
RANK_SD = (0.03, 0.15)
