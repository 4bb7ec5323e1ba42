/* The rows of side/exposure.h, as they were seen. */
#include "side/exposure.h"

#define EU  "directive-2006-25", "seen"
#define IC  "icnirp-2013", "second-hand"
#define IEC "iec-60825-2014", "memory"
#define A   BRV_FACTOR_A
#define C   BRV_FACTOR_C
#define E   BRV_FACTOR_E

/* clang-format off */
const struct brv_exposure_row brv_exposure_rows[] = {
/* name, edition, organ, wavelength from, to, time from, to, irradiance, coefficient, exponent, factors, source, seen */
{"eye 400-700 a",   BRV_EU_2006, BRV_EYE,   400e-9,  700e-9, 1e-13,   1e-11, false, 1.5e-4, 0.0,  E,     EU},
{"eye 400-700 b",   BRV_EU_2006, BRV_EYE,   400e-9,  700e-9, 1e-11,   1e-9,  false, 2.7e4,  0.75, E,     EU},
{"eye 400-700 c",   BRV_EU_2006, BRV_EYE,   400e-9,  700e-9, 1e-9,    18e-6, false, 5e-3,   0.0,  E,     EU},
{"eye 400-700 d",   BRV_EU_2006, BRV_EYE,   400e-9,  700e-9, 18e-6,   10.0,  false, 18.0,   0.75, E,     EU},
{"eye 700-1050 a",  BRV_EU_2006, BRV_EYE,   700e-9,  1050e-9, 1e-13,  1e-11, false, 1.5e-4, 0.0,  A | E, EU},
{"eye 700-1050 b",  BRV_EU_2006, BRV_EYE,   700e-9,  1050e-9, 1e-11,  1e-9,  false, 2.7e4,  0.75, A | E, EU},
{"eye 700-1050 c",  BRV_EU_2006, BRV_EYE,   700e-9,  1050e-9, 1e-9,   18e-6, false, 5e-3,   0.0,  A | E, EU},
{"eye 700-1050 d",  BRV_EU_2006, BRV_EYE,   700e-9,  1050e-9, 18e-6,  10.0,  false, 18.0,   0.75, A | E, EU},
{"eye 1050-1400 a", BRV_EU_2006, BRV_EYE,   1050e-9, 1400e-9, 1e-13,  1e-11, false, 1.5e-3, 0.0,  C | E, EU},
{"eye 1050-1400 b", BRV_EU_2006, BRV_EYE,   1050e-9, 1400e-9, 1e-11,  1e-9,  false, 2.7e5,  0.75, C | E, EU},
{"eye 1050-1400 c", BRV_EU_2006, BRV_EYE,   1050e-9, 1400e-9, 1e-9,   50e-6, false, 5e-2,   0.0,  C | E, EU},
{"eye 1050-1400 d", BRV_EU_2006, BRV_EYE,   1050e-9, 1400e-9, 50e-6,  10.0,  false, 90.0,   0.75, C | E, EU},
{"skin 400-700 a",  BRV_EU_2006, BRV_SKIN,  400e-9,  700e-9,  0.0,    1e-9,  true,  2e11,   0.0,  0,     EU},
{"skin 700-1400 a", BRV_EU_2006, BRV_SKIN,  700e-9,  1400e-9, 0.0,    1e-9,  true,  2e11,   0.0,  A,     EU},
{"skin b",          BRV_EU_2006, BRV_SKIN,  400e-9,  1400e-9, 1e-9,   1e-7,  false, 200.0,  0.0,  A,     EU},
{"skin c",          BRV_EU_2006, BRV_SKIN,  400e-9,  1400e-9, 1e-7,   10.0,  false, 1.1e4,  0.25, A,     EU},
{"skin d",          BRV_EU_2006, BRV_SKIN,  400e-9,  1400e-9, 10.0,   3e4,   true,  2e3,    0.0,  A,     EU},

{"eye 400-700 a",   BRV_ICNIRP_2013, BRV_EYE,  400e-9,  700e-9,  1e-9,  5e-6,  false, 2e-3,  0.0,  E,     IC},
{"eye 400-700 b",   BRV_ICNIRP_2013, BRV_EYE,  400e-9,  700e-9,  5e-6,  10.0,  false, 18.0,  0.75, E,     IC},
{"eye 400-700 c",   BRV_ICNIRP_2013, BRV_EYE,  400e-9,  700e-9,  10.0,  3e4,   true,  10.0,  0.0,  0,     IC},
{"eye 700-1050 a",  BRV_ICNIRP_2013, BRV_EYE,  700e-9,  1050e-9, 1e-9,  5e-6,  false, 2e-3,  0.0,  A | E, IC},
{"eye 700-1050 b",  BRV_ICNIRP_2013, BRV_EYE,  700e-9,  1050e-9, 5e-6,  10.0,  false, 18.0,  0.75, A | E, IC},
{"eye 700-1050 c",  BRV_ICNIRP_2013, BRV_EYE,  700e-9,  1050e-9, 10.0,  3e4,   true,  10.0,  0.0,  A | C, IC},
{"eye 1050-1400 a", BRV_ICNIRP_2013, BRV_EYE,  1050e-9, 1400e-9, 1e-9,  13e-6, false, 2e-2,  0.0,  C | E, IC},
{"eye 1050-1400 b", BRV_ICNIRP_2013, BRV_EYE,  1050e-9, 1400e-9, 13e-6, 10.0,  false, 90.0,  0.75, C | E, IC},
{"eye 1050-1400 c", BRV_ICNIRP_2013, BRV_EYE,  1050e-9, 1400e-9, 10.0,  3e4,   true,  10.0,  0.0,  A | C, IC},
{"skin b",          BRV_ICNIRP_2013, BRV_SKIN, 400e-9,  1400e-9, 1e-9,  1e-7,  false, 200.0, 0.0,  A,     IC},
{"skin c",          BRV_ICNIRP_2013, BRV_SKIN, 400e-9,  1400e-9, 1e-7,  10.0,  false, 1.1e4, 0.25, A,     IC},
{"skin d",          BRV_ICNIRP_2013, BRV_SKIN, 400e-9,  1400e-9, 10.0,  3e4,   true,  2e3,   0.0,  A,     IC},
};

const struct brv_exposure_row brv_exposure_others[] = {
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 400e-9,  700e-9,  1e-13, 1e-11, false, 1e-3, 0.0, E,     IEC},
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 400e-9,  700e-9,  1e-11, 5e-6,  false, 2e-3, 0.0, E,     IEC},
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 700e-9,  1050e-9, 1e-13, 1e-11, false, 1e-3, 0.0, A | E, IEC},
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 700e-9,  1050e-9, 1e-11, 5e-6,  false, 2e-3, 0.0, A | E, IEC},
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 1050e-9, 1400e-9, 1e-13, 1e-11, false, 1e-2, 0.0, C | E, IEC}, /* least sure */
{"IEC 60825-1:2014 eye", -1, BRV_EYE, 1050e-9, 1400e-9, 1e-11, 13e-6, false, 2e-2, 0.0, C | E, IEC},
{"ANSI Z136.1-2022 skin", -1, BRV_SKIN, 400e-9, 1400e-9, 1e-13, 1e-11, false, 20.0, 0.0, A, "ansi-2022", "second-hand"},
{"ANSI Z136.1-2022 skin", -1, BRV_SKIN, 400e-9, 1400e-9, 1e-11, 1e-9,  false, 60.0, 0.0, A, "ansi-2022", "second-hand"},
};
/* clang-format on */

const size_t brv_n_exposure_rows = sizeof brv_exposure_rows / sizeof *brv_exposure_rows;
const size_t brv_n_exposure_others = sizeof brv_exposure_others / sizeof *brv_exposure_others;
