#include "scenario/unit.h"

#include "base/constants.h"
#include "scenario/nearest.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* clang-format off */
static const struct brv_unit units[] = { /* within a dimension from small to large */
    {"%",       BRV_SHARE,         -2, 1,  0, 1},

    {"nm",      BRV_LENGTH,        -9, 1,  0, 1},
    {"um",      BRV_LENGTH,        -6, 1,  0, 0.1},
    {"mm",      BRV_LENGTH,        -3, 1,  0, 1},
    {"cm",      BRV_LENGTH,        -2, 1,  0, 0},
    {"m",       BRV_LENGTH,         0, 1,  0, 1},

    {"ps",      BRV_TIME,         -12, 1,  0, 1},
    {"ns",      BRV_TIME,          -9, 1,  0, 1},
    {"us",      BRV_TIME,          -6, 1,  0, 1},
    {"ms",      BRV_TIME,          -3, 1,  0, 1},
    {"s",       BRV_TIME,           0, 1,  0, 1},
    {"min",     BRV_TIME,           0, 60, 0, 0},

    {"h",       BRV_WAITING,        0, 3600, 0, 1},
    {"days",    BRV_WAITING,        0, 86400, 0, 1},
    {"day",     BRV_WAITING,        0, 86400, 0, 0},
    {"weeks",   BRV_WAITING,        0, 604800, 0, 1},
    {"week",    BRV_WAITING,        0, 604800, 0, 0},

    {"mm2",     BRV_AREA,          -6, 1,  0, 1},
    {"cm2",     BRV_AREA,          -4, 1,  0, 0.1},
    {"m2",      BRV_AREA,           0, 1,  0, 0.5},

    {"mrad",    BRV_ANGLE,         -3, 1,  0, 1},
    {"rad",     BRV_ANGLE,          0, 1,  0, 0},
    {"deg",     BRV_ANGLE,          0, 0.017453292519943295, 0, 0},

    {"nJ",      BRV_ENERGY,        -9, 1,  0, 1},
    {"uJ",      BRV_ENERGY,        -6, 1,  0, 1},
    {"mJ",      BRV_ENERGY,        -3, 1,  0, 1},
    {"J",       BRV_ENERGY,         0, 1,  0, 1},

    {"J/m2",    BRV_FLUENCE,        0, 1,  0, 0},
    {"mJ/cm2",  BRV_FLUENCE,        1, 1,  0, 1},
    {"J/cm2",   BRV_FLUENCE,        4, 1,  0, 0.1},

    {"/m",      BRV_PER_LENGTH,     0, 1,  0, 0},
    {"1/m",     BRV_PER_LENGTH,     0, 1,  0, 0},
    {"m-1",     BRV_PER_LENGTH,     0, 1,  0, 0},
    {"/cm",     BRV_PER_LENGTH,     2, 1,  0, 1},
    {"1/cm",    BRV_PER_LENGTH,     2, 1,  0, 0},
    {"cm-1",    BRV_PER_LENGTH,     2, 1,  0, 0},
    {"/mm",     BRV_PER_LENGTH,     3, 1,  0, 0},
    {"1/mm",    BRV_PER_LENGTH,     3, 1,  0, 0},
    {"mm-1",    BRV_PER_LENGTH,     3, 1,  0, 0},

    {"/s",      BRV_PER_TIME,       0, 1,  0, 1},
    {"1/s",     BRV_PER_TIME,       0, 1,  0, 0},
    {"s-1",     BRV_PER_TIME,       0, 1,  0, 0},
    {"Hz",      BRV_PER_TIME,       0, 1,  0, 0},

    {"degC",    BRV_TEMPERATURE,    0, 1,  BRV_ZERO_C, 1},
    {"K",       BRV_TEMPERATURE,    0, 1,  0, 0},

    {"W/m/K",   BRV_CONDUCTIVITY,   0, 1,  0, 1},

    {"W/m2/K",  BRV_TRANSFER,       0, 1,  0, 1},

    {"kg/m3",   BRV_DENSITY,        0, 1,  0, 1},
    {"g/cm3",   BRV_DENSITY,        3, 1,  0, 0},

    {"J/kg/K",  BRV_HEAT_CAPACITY,  0, 1,  0, 1},
    {"kJ/kg/K", BRV_HEAT_CAPACITY,  3, 1,  0, 0},
};

/* What a dimension is called, and the unit a reader of skin papers would expect. */
static const struct {
    const char *name, *example;
} dimensions[BRV_N_DIMENSION] = {
    [BRV_PURE]          = {"a plain number", ""},
    [BRV_SHARE]         = {"a share", "%"},
    [BRV_LENGTH]        = {"a length", "mm"},
    [BRV_TIME]          = {"a time", "ns"},
    [BRV_ENERGY]        = {"an energy", "mJ"},
    [BRV_FLUENCE]       = {"an energy per area", "J/cm2"},
    [BRV_PER_LENGTH]    = {"1/length", "/cm"},
    [BRV_PER_TIME]      = {"1/time", "/s"},
    [BRV_TEMPERATURE]   = {"a temperature", "degC"},
    [BRV_CONDUCTIVITY]  = {"a thermal conductivity", "W/m/K"},
    [BRV_TRANSFER]      = {"a heat transfer coefficient", "W/m2/K"},
    [BRV_DENSITY]       = {"a density", "kg/m3"},
    [BRV_HEAT_CAPACITY] = {"a heat capacity", "J/kg/K"},
    [BRV_WAITING]       = {"a waiting time", "weeks"},
    [BRV_AREA]          = {"an area", "cm2"},
    [BRV_ANGLE]         = {"an angle", "mrad"},
};

/* Words that people write out; the edit distance would not find them. */
static const struct {
    const char *written, *meant;
} words[] = {
    {"C", "degC"}, {"degrees", "deg"}, {"Celsius", "degC"}, {"Kelvin", "K"}, {"percent", "%"}, {"pct", "%"},
    {"micron", "um"}, {"microns", "um"}, {"micrometer", "um"}, {"micrometers", "um"}, {"mu", "um"},
    {"nanometer", "nm"}, {"nanometers", "nm"}, {"millimeter", "mm"}, {"millimeters", "mm"},
    {"sec", "s"}, {"second", "s"}, {"seconds", "s"}, {"msec", "ms"}, {"usec", "us"}, {"nsec", "ns"}, {"psec", "ps"},
    {"nanosecond", "ns"}, {"nanoseconds", "ns"}, {"picoseconds", "ps"}, {"microseconds", "us"},
    {"milliseconds", "ms"}, {"minute", "min"}, {"minutes", "min"},
    {"joule", "J"}, {"joules", "J"}, {"millijoule", "mJ"}, {"millijoules", "mJ"},
    {"W/mK", "W/m/K"}, {"W/m K", "W/m/K"}, {"W/(m K)", "W/m/K"}, {"W/(mK)", "W/m/K"},
    {"W/m2K", "W/m2/K"}, {"W/m2 K", "W/m2/K"}, {"W/(m2 K)", "W/m2/K"}, {"W/(m2K)", "W/m2/K"},
    {"hertz", "Hz"}, {"per second", "/s"},
    {"J/kgK", "J/kg/K"}, {"J/kg K", "J/kg/K"}, {"J/(kg K)", "J/kg/K"}, {"J/(kgK)", "J/kg/K"},
    {"g/ml", "g/cm3"}, {"g/cc", "g/cm3"}, {"J/cm", "J/cm2"}, {"J cm-2", "J/cm2"}, {"Jcm-2", "J/cm2"},
};

/* Units of their own, each a letter or two from one of ours. */
static const char *const foreign[] = {
    "as", "fs", "Ms", "pm", "dm", "km", "in", "ft", "pJ", "kJ", "MJ", "W", "uW", "mW", "kW", "MW",
    "mHz", "kHz", "MHz", "/ms", "1/ms", "/min", "1/min", "/um", "1/um", "/nm", "1/nm", "/km", "um2", "km2", "degF", "mK", "urad",
    "nJ/cm2", "uJ/cm2", "kJ/cm2", "kJ/m2", "mJ/m2", "mJ/mm2", "J/mm2", "W/cm2", "W/m2", "kg/m2", "mg/cm3",
};
/* clang-format on */

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- from text ---- */

/* One spelling for all: the letters that stand in for others, in UTF-8. */
static const struct {
    const char *written, *plain;
} letters[] = {
    {"\xC2\xB5", "u"}, {"\xCE\xBC", "u"}, {"\xC2\xB0", "deg"},   {"\xC2\xB9", "1"},
    {"\xC2\xB2", "2"}, {"\xC2\xB3", "3"}, {"\xE2\x81\xBB", "-"},
};

static bool is_power_mark(const char *text)
{
    return text[0] == '^' && (text[1] == '-' || (text[1] >= '0' && text[1] <= '9'));
}

/* The plain letters for what `text` begins with; `*length` bytes of it. */
static const char *plain_letters(const char *text, size_t *length, char single[2])
{
    for (size_t i = 0; i < COUNT(letters); i++) {
        *length = strlen(letters[i].written);
        if (!strncmp(text, letters[i].written, *length)) return letters[i].plain;
    }
    *length = 1;
    single[0] = *text;
    return single;
}

enum { SPELLING_SIZE = 24 }; /* longer than any unit or word of the tables */

/* `text` in the table's spelling; false when it is too long to be any unit. */
static bool plain_spelling(char out[SPELLING_SIZE], const char *text)
{
    size_t n = 0;
    for (size_t length = 0; *text; text += length) {
        char single[2] = "";
        const char *plain = plain_letters(text, &length, single);
        if (n > 0 && is_power_mark(text)) continue;
        const size_t more = strlen(plain);
        if (n + more >= SPELLING_SIZE) return false;
        memcpy(out + n, plain, more);
        n += more;
    }
    out[n] = '\0';
    return n > 0;
}

static const struct brv_unit *named(const char *name)
{
    for (size_t i = 0; i < COUNT(units); i++)
        if (!strcmp(units[i].name, name)) return &units[i];
    return NULL;
}

const struct brv_unit *brv_unit_find(const char *text)
{
    char plain[SPELLING_SIZE];
    return plain_spelling(plain, text) ? named(plain) : NULL;
}

bool brv_unit_is_foreign(const char *text)
{
    char plain[SPELLING_SIZE];
    if (!plain_spelling(plain, text)) return false;
    for (size_t i = 0; i < COUNT(foreign); i++)
        if (!strcmp(foreign[i], plain)) return true;
    return false;
}

static const struct brv_unit *written_out(const char *plain)
{
    for (size_t i = 0; i < COUNT(words); i++)
        if (brv_nearest_distance(words[i].written, plain) == 0) return named(words[i].meant);
    return NULL;
}

const struct brv_unit *brv_unit_meant(const char *text, enum brv_dimension dimension)
{
    char plain[SPELLING_SIZE];
    if (!plain_spelling(plain, text)) return NULL;

    const struct brv_unit *word = written_out(plain);
    if (word) return word;

    struct brv_nearest nearest = {.word = plain};
    if (dimension != BRV_PURE) brv_nearest_offer(&nearest, dimensions[dimension].example); /* of equals, this one */
    for (size_t i = 0; i < COUNT(units); i++)
        if (units[i].dimension == dimension) brv_nearest_offer(&nearest, units[i].name);
    return nearest.best ? named(nearest.best) : NULL;
}

/* ---- to text ---- */

const char *brv_unit_dimension_name(enum brv_dimension dimension)
{
    return dimensions[dimension].name;
}

const char *brv_unit_example(enum brv_dimension dimension)
{
    return dimensions[dimension].example;
}

/* "1/cm" is "/cm" once more; Hz is a word of its own. */
static bool is_other_spelling(const struct brv_unit *unit)
{
    if (!strpbrk(unit->name, "/-")) return false;
    for (const struct brv_unit *first = units; first < unit; first++)
        if (first->dimension == unit->dimension && first->power == unit->power && first->times == unit->times &&
            first->offset == unit->offset)
            return true;
    return false;
}

const char *brv_unit_list(char out[BRV_UNIT_LIST_SIZE], enum brv_dimension dimension)
{
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; i < COUNT(units) && n < BRV_UNIT_LIST_SIZE; i++)
        if (units[i].dimension == dimension && !is_other_spelling(&units[i]))
            n += (size_t)snprintf(out + n, BRV_UNIT_LIST_SIZE - n, "%s%s", n ? ", " : "", units[i].name);
    return out;
}

const struct brv_unit *brv_unit_si(enum brv_dimension dimension)
{
    for (size_t i = 0; i < COUNT(units); i++) {
        const struct brv_unit *unit = &units[i];
        const bool plain = unit->power == 0 && !(unit->times > 1.0) && !(unit->offset > 0.0);
        if (unit->dimension == dimension && plain) return unit;
    }
    return NULL;
}

static double in_unit(double value, const struct brv_unit *unit)
{
    return unit ? (value - unit->offset) / unit->times / pow(10.0, unit->power) : value;
}

const struct brv_unit *brv_unit_best(double value, enum brv_dimension dimension)
{
    const double almost = 0.99995; /* four digits round it to 1 */
    const struct brv_unit *best = NULL;
    for (size_t i = 0; i < COUNT(units); i++) {
        const struct brv_unit *unit = &units[i];
        if (unit->dimension != dimension || unit->from <= 0.0) continue;
        if (!best || fabs(in_unit(value, unit)) >= almost * unit->from) best = unit;
    }
    return best;
}

/* No more digits than a reader takes in at a glance; zero fits every unit. */
static bool reads_well(double number)
{
    return number == 0.0 || (fabs(number) >= 0.0999 && fabs(number) < 2000.0);
}

const struct brv_unit *brv_unit_common(double one, double other, enum brv_dimension dimension)
{
    for (size_t i = 0; i < COUNT(units); i++) {
        const struct brv_unit *unit = &units[i];
        if (unit->dimension != dimension || unit->from <= 0.0) continue;
        if (reads_well(in_unit(one, unit)) && reads_well(in_unit(other, unit))) return unit;
    }
    return NULL;
}

/* As %.4g, but 100000 instead of 1e+05 and 1e7 instead of 1e+07. */
static void write_number(char *out, size_t size, double number)
{
    char digits[32];
    snprintf(digits, sizeof digits, "%.4g", number);
    const char *exponent = strchr(digits, 'e');
    if (!exponent)
        snprintf(out, size, "%s", digits);
    else if (fabs(number) >= 1.0 && fabs(number) < 9.9995e6)
        snprintf(out, size, "%.0f", strtod(digits, NULL));
    else
        snprintf(out, size, "%.*se%ld", (int)(exponent - digits), digits, strtol(exponent + 1, NULL, 10));
}

const char *brv_unit_value(char out[BRV_UNIT_VALUE_SIZE], double value, const struct brv_unit *unit)
{
    char number[32];
    write_number(number, sizeof number, in_unit(value, unit));
    if (isinf(value))
        snprintf(out, BRV_UNIT_VALUE_SIZE, "%s", value > 0.0 ? "endless" : "-endless");
    else
        snprintf(out, BRV_UNIT_VALUE_SIZE, unit ? "%s %s" : "%s", number, unit ? unit->name : "");
    return out;
}
