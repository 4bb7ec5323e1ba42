#include "report/published.h"

#include "scenario/scenario.h"

#include <math.h>

#define SAME_LINE 3e-9 /* [m] */

/* clang-format off */
const struct brv_published brv_published[] = {
    {532e-9,  0.29e4, 0.41e4, "750 ps",  "solar lentigines",                    20,  "negishi-2018",     "abstract", true, -1},
    {694e-9,  1.4e4,  1.4e4,  "ns",      "lentigo: mean threshold of whitening", 0,  "hruza-1991",       "abstract", true, BRV_LESION},
    {694e-9,  3.1e4,  3.1e4,  "ns",      "sun-protected skin: the same",         0,  "hruza-1991",       "abstract", true, BRV_NEIGHBOUR},
    {694e-9,  6.0e4,  7.0e4,  "30 ns",   "facial lentigines",                   18,  "kono-2006",        "abstract", true, -1},
    {755e-9,  7.0e4,  7.0e4,  "100 ns",  "freckles",                           197,  "jang-2000",        "abstract", true, -1},
    {1064e-9, 1.2e4,  2.0e4,  "ns",      "melasma",                             40,  "low-fluence-2018", "abstract", false, -1},
    {1064e-9, 1.6e4,  2.0e4,  "ns",      "mixed melasma",                       27,  "kauvar-2012",      "abstract", false, -1},
    {1064e-9, 2.5e4,  2.5e4,  "ns",      "melasma",                             34,  "multi-pass-2016",  "abstract", false, -1},
    {1064e-9, 3.0e4,  3.8e4,  "ns",      "melasma",                             22,  "wattanakrai-2010", "abstract", false, -1},
};
/* clang-format on */

const size_t brv_n_published = sizeof brv_published / sizeof *brv_published;

bool brv_published_is_at(size_t i, double wavelength)
{
    return fabs(brv_published[i].wavelength - wavelength) < SAME_LINE;
}
