#include "report/published.h"

#include "scenario/scenario.h"

#include <math.h>
#include <stdio.h>

#define SAME_LINE 3e-9 /* [m] */
#define NANO_FROM 1e-9 /* [s] */
#define LONG_FROM 1e-6 /* [s] */
#define NO        NAN

/* Those of one wavelength stand together, in the order in which they are shown. */
/* clang-format off */
const struct brv_published brv_published[] = {
/* wavelength, fluence low and high, spot low and high, pulse, condition, n, name, year, skin,
   visits, outcome, adverse, doi, source, seen, sun, sign_of, pulses, on_card, kind */
    {355e-9, 0.11e4, 0.11e4, NO, NO, "10-12 ns", "guinea pig: whitening", 0, "Anderson", 1989, "guinea pig",
     "-", "whitening at once", "-",
     "PMID 2746004", "anderson-1989", "abstract", true, -1, BRV_NANO, false, BRV_ANIMAL},
    {510e-9, 2e4, 3.5e4, NO, NO, "300 ns", "epidermal pigmented lesions", 65, "dye laser series", 0, "-",
     "1 to 3", "50 % of 492 lesions cleared after 1, 90 % after 3", "purpura for 5-7 days",
     "review that quotes it", "dye-510", "second-hand", true, -1, BRV_NANO, false, BRV_TREATED},
    {532e-9, 0.2e4, 0.2e4, NO, NO, "10-12 ns", "guinea pig: whitening", 0, "Anderson", 1989, "guinea pig",
     "-", "whitening at once", "-",
     "PMID 2746004", "anderson-1989", "abstract", true, -1, BRV_NANO, false, BRV_ANIMAL},
    {532e-9, NO, NO, NO, NO, "ns", "solar lentigines, two end points", 193, "Negishi", 2013, "III-V",
     "1, judged at 4 weeks", "no difference in clearance between slight and very obvious whitening", "darkening 23.18 % (very obvious) against 8.47 % (slight)",
     "10.1111/j.1468-3083.2011.04385.x", "negishi-2013", "abstract", true, -1, BRV_NANO, false, BRV_TREATED},
    {532e-9, 0.29e4, 0.41e4, 3e-3, 4e-3, "750 ps", "solar lentigines", 20, "Negishi", 2018, "III-IV",
     "1 (93 %), 2 (7 %)", "93 % had more than 75 % clearance after 1", "darkening in 4.65 % of lesions",
     "pure.fujita-hu.ac.jp record", "negishi-2018", "abstract", true, -1, BRV_PICO, true, BRV_TREATED},
    {532e-9, NO, NO, NO, NO, "ps and ns", "solar lentigines, split face", 20, "split face, Korea", 0, "Korean",
     "1", "ps cleared better", "darkening 5 % (ps) against 30 % (ns)",
     "discovery.researcher.life", "split-face-532", "abstract", true, -1, BRV_NANO, false, BRV_TREATED},
    {532e-9, NO, NO, NO, NO, "ns", "freckles, lentigines", 40, "Hong Kong", 2012, "Chinese",
     "mean 1.8, 4-6 weeks apart", "better with this, and with ms at 532 and 595 nm", "darkening 10 % (532 nm ns), 0 (both ms)",
     "10.3109/14764172.2012.670707", "four-lasers-2012", "abstract", true, -1, BRV_NANO, false, BRV_TREATED},
    {532e-9, NO, NO, NO, NO, "ms, cooled", "poikiloderma of neck and chest", 20, "green ms laser", 0, "-",
     "4, monthly", "74.1 +- 20.2 % better on the neck, 68.4 +- 20.5 % on the chest, at 2 months", "erythema, oedema, purpura",
     "discovery.researcher.life", "ktp-poikiloderma", "abstract", true, -1, BRV_LONG, false, BRV_TREATED},
    {595e-9, 10e4, 13e4, 7e-3, 7e-3, "1.5 ms", "facial lentigines", 18, "Kono", 2006, "III-IV",
     "1", "see paper", "none on this side (memory)",
     "10.1002/lsm.20246", "kono-2006", "abstract", true, -1, BRV_LONG, false, BRV_TREATED},
    {595e-9, NO, NO, 15e-3, 15e-3, "ms", "poikiloderma", 20, "Bernstein", 2019, "-",
     "4, monthly", "better to blinded eyes (see paper)", "see paper",
     "Lasers Surg. Med. 51, 54", "bernstein-2019", "abstract", true, -1, BRV_LONG, false, BRV_TREATED},
    {694e-9, 0.2e4, 0.2e4, NO, NO, "ns", "feeling of a pin-prick", 0, "Hruza", 1991, "-",
     "-", "felt far below whitening", "-",
     "10.1001/archderm.1991.04520010045005", "hruza-1991", "abstract", true, -1, BRV_NANO, false, BRV_THRESHOLD},
    {694e-9, 1.4e4, 1.4e4, NO, NO, "ns", "lentigo: mean threshold of whitening", 0, "Hruza", 1991, "-",
     "-", "below whitening darker at one week", "all sites normal in 3-6 months",
     "10.1001/archderm.1991.04520010045005", "hruza-1991", "abstract", true, BRV_LESION, BRV_NANO, true, BRV_THRESHOLD},
    {694e-9, 3.1e4, 3.1e4, NO, NO, "ns", "sun-protected skin: the same", 0, "Hruza", 1991, "-",
     "-", "below whitening darker at one week", "all sites normal in 3-6 months",
     "10.1001/archderm.1991.04520010045005", "hruza-1991", "abstract", true, BRV_NEIGHBOUR, BRV_NANO, true, BRV_THRESHOLD},
    {694e-9, 6e4, 7e4, 4e-3, 4e-3, "30 ns", "facial lentigines", 18, "Kono", 2006, "III-IV",
     "1", "see paper", "darkening on this side only (memory)",
     "10.1002/lsm.20246", "kono-2006", "abstract", true, -1, BRV_NANO, true, BRV_TREATED},
    {694e-9, NO, NO, NO, NO, "ns", "solar lentigines, two end points", 193, "Negishi", 2013, "III-V",
     "1, judged at 4 weeks", "no difference in clearance between slight and very obvious whitening", "darkening 33.33 % (very obvious) against 7.47 % (slight)",
     "10.1111/j.1468-3083.2011.04385.x", "negishi-2013", "abstract", true, -1, BRV_NANO, false, BRV_TREATED},
    {755e-9, NO, NO, NO, NO, "ms", "freckles, lentigines", 40, "Hong Kong", 2012, "Chinese",
     "mean 1.8, 4-6 weeks apart", "not named among the better", "darkening 20 %",
     "10.3109/14764172.2012.670707", "four-lasers-2012", "abstract", true, -1, BRV_LONG, false, BRV_TREATED},
    {755e-9, NO, NO, 3e-3, 4e-3, "ns", "freckles, lentigines, Ota-like spots", 36, "J Dermatolog Treat", 2012, "Asian",
     "1", "lowest fluence with a visible effect; both spots alike", "darkening 10 % freckles, 44 % lentigines, 75 % Ota-like spots; milder with 4 mm in lentigines",
     "10.3109/09546634.2011.560929", "split-face-755", "abstract", true, -1, BRV_NANO, false, BRV_TREATED},
    {755e-9, 7e4, 7e4, NO, NO, "100 ns", "freckles", 197, "Jang", 2000, "Korean",
     "mean 1.5, 8 weeks apart", "more than 76 % removed", "no lasting change of pigment, no scar",
     "Dermatol. Surg. 26, 231", "jang-2000", "abstract", true, -1, BRV_NANO, true, BRV_TREATED},
    {1064e-9, 1e4, 1e4, NO, NO, "10-12 ns", "guinea pig: whitening", 0, "Anderson", 1989, "guinea pig",
     "-", "whitening at once", "-",
     "PMID 2746004", "anderson-1989", "abstract", true, -1, BRV_NANO, false, BRV_ANIMAL},
    {1064e-9, 1.2e4, 2e4, 8e-3, 8e-3, "ns", "melasma", 40, "J Cosmet Dermatol", 2018, "III-IV",
     "median 10, weekly", "mMASI 3.19 to 1.46", "2 of 40 mottled loss of pigment and rebound",
     "10.1111/jocd.12760", "low-fluence-2018", "abstract", false, -1, BRV_NANO, true, BRV_TREATED},
    {1064e-9, 1.6e4, 2e4, 5e-3, 6e-3, "ns", "mixed melasma", 27, "Kauvar", 2012, "II-V",
     "mean 2.6, 4 weeks apart", "81 % had more than 75 % clearance; with microdermabrasion and creams", "mild erythema, 4 flares after sun",
     "Lasers Surg. Med. 44, 117", "kauvar-2012", "abstract", false, -1, BRV_NANO, true, BRV_TREATED},
    {1064e-9, 2.5e4, 2.5e4, 6e-3, 6e-3, "ns", "melasma", 34, "J Cosmet Dermatol", 2016, "-",
     "median 8, 2 weeks apart", "mMASI 6.7 to 3.2, at 1 year back to 5.8", "58.8 % had it again at 1 year",
     "10.1111/jocd.12253", "multi-pass-2016", "abstract", false, -1, BRV_NANO, true, BRV_TREATED},
    {1064e-9, 3e4, 3.8e4, 6e-3, 6e-3, "ns", "melasma", 22, "Wattanakrai", 2010, "Asian",
     "5, weekly", "mMASI -75.9 % against -24 %; with 2 % hydroquinone on both sides", "mottled loss of pigment 3 of 22, rebound 4, all had it again",
     "10.1111/j.1524-4725.2009.01383.x", "wattanakrai-2010", "abstract", false, -1, BRV_NANO, true, BRV_TREATED},
    {1064e-9, 1.6e4, 1.6e4, 7e-3, 7e-3, "ns", "melasma, one split face", 1, "one face, Korea", 0, "-",
     "8, weekly, 1200 pulses a half", "like 2 x 0.8 J/cm2 of 80 us", "no new loss of pigment",
     "jkslms.or.kr uid 26", "one-face-1064", "abstract", false, -1, BRV_NANO, false, BRV_TREATED},
    {1064e-9, NO, NO, NO, NO, "ns, wide", "rejuvenation 9, melasma 5", 14, "Chan", 2010, "Chinese",
     "6 to 50, mean 22.07", "melasma no better in all 5", "mottled loss of pigment in all 14",
     "10.1002/lsm.20956", "chan-2010", "abstract", false, -1, BRV_NANO, false, BRV_TREATED},
    {1064e-9, NO, NO, NO, NO, "ns, wide", "many visits of low fluence", 3, "Wong", 2015, "Asian",
     "many", "-", "white dots",
     "Ann. Dermatol. 27, 751", "wong-2015", "abstract", false, -1, BRV_NANO, false, BRV_TREATED},
    {1064e-9, NO, NO, NO, NO, "ns", "melasma: review of 42 articles", 0, "Medicina", 2022, "mostly Asian",
     "-", "mostly effective, heterogeneous", "mottled loss of pigment, recurrence",
     "10.3390/medicina58070936", "melasma-review-2022", "abstract", false, -1, BRV_NANO, false, BRV_TREATED},
    {1064e-9, NO, NO, NO, NO, "ns", "mixed pigment, also with 532 nm", 100, "Mhatre", 0, "Indian",
     "-", "10 % more than half better, 22 % not at all", "7 % worse",
     "docslib 11084061", "mhatre", "abstract", false, -1, BRV_NANO, false, BRV_TREATED},
    {NO, NO, NO, NO, NO, "ablative", "poikiloderma, fractional", 10, "Tierney", 2009, "-",
     "1 to 3, 6-8 weeks apart", "uneven colour 66.7 % better (61.8 to 71.6)", "-",
     "J. Drugs Dermatol. 8, 527", "tierney-2009", "abstract", true, -1, BRV_LONG, false, BRV_TREATED},
};

const struct brv_complication brv_complications[] = {
/* event, under, rate, source, seen, repeated, share, n, chosen */
    {"darkening", "lentigines, very obvious against slight whitening", "23-33 % against 7-8 %", "negishi-2013", "abstract", false, NO, 0, false},
    {"darkening", "lentigines, 755 nm ns, Asian skin", "44 %", "split-face-755", "abstract", false, NO, 0, false},
    {"darkening", "lentigines, 532 nm, ps against ns", "5 against 30 %", "split-face-532", "abstract", false, NO, 0, false},
    {"darkening", "freckles, 755 nm ns", "10 %", "split-face-755", "abstract", false, NO, 0, false},
    {"darkening", "Ota-like spots, 755 nm ns", "75 %", "split-face-755", "abstract", false, NO, 0, false},
    {"skin type within III-V", "", "no significant difference in darkening", "negishi-2013", "abstract", false, NO, 0, false},
    {"mottled loss of pigment", "6 to 50 visits, mean 22, low fluence", "14 of 14", "chan-2010", "abstract", true, 1.0, 14, true},
    {"mottled loss of pigment", "5 weekly, 3.0 to 3.8 J/cm2", "3 of 22", "wattanakrai-2010", "abstract", true, 3.0 / 22.0, 22, false},
    {"mottled loss of pigment", "median 10 weekly, 1.2 to 2.0 J/cm2", "2 of 40", "low-fluence-2018", "abstract", true, 2.0 / 40.0, 40, false},
    {"drop-like white spots", "frequent, low fluence", "3 of 3", "wong-2015", "abstract", true, 1.0, 3, true},
    {"melasma back", "5 weekly, 3.0 to 3.8 J/cm2", "22 of 22", "wattanakrai-2010", "abstract", true, 1.0, 22, false},
    {"melasma back", "median 8, 2.5 J/cm2, after a year", "58.8 % of 34", "multi-pass-2016", "abstract", true, 0.588, 34, false},
    {"melasma rebounds", "5 weekly, 3.0 to 3.8 J/cm2", "4 of 22", "wattanakrai-2010", "abstract", true, 4.0 / 22.0, 22, false},
    {"skin turns blue at once", "after gold salts, up to 26 years later", "5 cases", "cohen-ross-2015", "seen", false, NO, 0, false},
    {"eye injury", "laser work on skin", "119 cases; 60 direct: wrong or no eyewear 44 of 60, patients 52, lasting 31", "flegel-2022", "abstract", false, NO, 0, false},
    {"eye injury", "cosmetic laser on the face", "21 cases; eyewear missing or taken off in over 62 %", "huang-eyes", "abstract", false, NO, 0, false},
    {"claims in the USA", "1985-2012", "174: burns 47 %, scars 39 %, pigment 24 %", "jalian-2013", "abstract", false, NO, 0, false},
    {"claims in the USA", "2012-2020", "69; 71 % operators who were no physicians", "khalifian-2022", "abstract", false, NO, 0, false},
    {"melanoma after laser", "", "11 people, 9 without histology before", "delker-2017", "abstract", false, NO, 0, false},
    {"melanoma after laser", "", "12 people, 3 dead, mostly lesions of the face in women", "zipser-2010", "abstract", false, NO, 0, false},
};
/* clang-format on */

const size_t brv_n_published = sizeof brv_published / sizeof *brv_published;
const size_t brv_n_complications = sizeof brv_complications / sizeof *brv_complications;

const char brv_published_gap[] =
    "No trial of nanosecond pulses in poikiloderma was found in this project's search: what is published there is of "
    "millisecond pulses and of ablative light. Nothing here implies evidence.";

enum brv_pulse_class brv_published_class(double width)
{
    if (width > LONG_FROM) return BRV_LONG;
    return width < NANO_FROM ? BRV_PICO : BRV_NANO;
}

bool brv_published_is_at(size_t i, double wavelength)
{
    return fabs(brv_published[i].wavelength - wavelength) < SAME_LINE;
}

bool brv_published_is_on_card(size_t i, double wavelength)
{
    return brv_published[i].on_card && brv_published_is_at(i, wavelength);
}

const char *brv_published_name(char out[BRV_PUBLISHED_NAME_SIZE], const struct brv_published *row)
{
    if (row->year)
        snprintf(out, BRV_PUBLISHED_NAME_SIZE, "%s %d", row->name, row->year);
    else
        snprintf(out, BRV_PUBLISHED_NAME_SIZE, "%s", row->name);
    return out;
}
