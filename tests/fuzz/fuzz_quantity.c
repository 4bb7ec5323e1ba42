/* A written value with its unit, read as every dimension there is; numbers and units written back read back. */
#include "fuzz/fuzz.h"

#include "report/number.h"
#include "scenario/nearest.h"
#include "scenario/quantity.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool same(double one, double other)
{
    return !memcmp(&one, &other, sizeof one);
}

/* A value in SI, written with all digits and read again: the same, but for the offset of degC. */
static void write_back(double value, enum brv_dimension dimension)
{
    char number[BRV_NUMBER_SIZE], text[BRV_NUMBER_SIZE + 16], why[BRV_QUANTITY_WHY_SIZE] = "";
    const struct brv_unit *unit = brv_unit_si(dimension);
    double again = 0.0;
    brv_number_exact(number, value);
    fuzz_require(same(strtod(number, NULL), value), "%s is %.17g", number, value);
    snprintf(text, sizeof text, "%s%s%s", number,
             unit                     ? " "
             : dimension == BRV_SHARE ? "e2 %"
                                      : "",
             unit ? unit->name : "");
    if (dimension == BRV_WAITING) return;                      /* its units have no power of ten */
    if (dimension == BRV_SHARE && strchr(number, 'e')) return; /* would want another exponent */
    fuzz_require(brv_quantity_read(&again, text, dimension, why), "%s reads back: %s", text, why);
    fuzz_require(same(again, value), "%s is %.17g, not %.17g", text, value, again);
}

/* Four digits for people: within half of the last of them. Below the smallest normal number there are no four digits. */
static void show(double value, enum brv_dimension dimension)
{
    char text[BRV_UNIT_VALUE_SIZE], shown[BRV_NUMBER_SIZE], why[BRV_QUANTITY_WHY_SIZE] = "";
    const struct brv_unit *unit = brv_unit_best(value, dimension);
    double again = 0.0;
    brv_unit_value(text, value, unit);
    fuzz_require(fuzz_is_plain(text) && fuzz_is_plain(brv_number_unit(shown, value, dimension)), "%s, %s", text, shown);
    fuzz_require(fuzz_is_plain(brv_number_printed(shown, value, dimension)), "%s", shown);
    if (!(fabs(value) > 1e-290 && fabs(value) < 1e290)) return; /* a unit's power of ten has room */
    fuzz_require(brv_quantity_read(&again, text, unit ? unit->dimension : BRV_PURE, why), "%.17g, shown as %s: %s",
                 value, text, why);
    const double slack = unit ? fabs(unit->offset) : 0.0;
    fuzz_require(fabs(again - value) <= 0.501e-3 * (fabs(value) + slack), "%s for %.17g", text, value);
}

static unsigned read_as(const char *text, enum brv_dimension dimension)
{
    char why[BRV_QUANTITY_WHY_SIZE] = "";
    const double before = -4711.0;
    double value = before;
    if (brv_quantity_read(&value, text, dimension, why)) {
        fuzz_require(isfinite(value), "%s is finite, not %g", text, value);
        write_back(value, dimension);
        show(value, dimension);
        return 1;
    }
    fuzz_require(same(value, before), "%s leaves the value alone", text);
    fuzz_require(*why && strlen(why) < BRV_QUANTITY_WHY_SIZE, "a reason for %s", text);
    fuzz_require(fuzz_is_plain(why), "a reason without controls: %s", why);
    return 0;
}

static void check_lack(const char *text, unsigned taken)
{
    double number = 0.0;
    const enum brv_quantity_lack lack = brv_quantity_lack(text, &number);
    fuzz_require(lack != BRV_LACKS_NUMBER || !taken, "%s has no number and was read %u times", text, taken);
    fuzz_require(lack != BRV_LACKS_UNIT || isfinite(number), "%s is finite", text);
}

static void check_words(const char *text)
{
    const struct brv_unit *unit = brv_unit_find(text);
    fuzz_require(!unit || brv_unit_find(unit->name) == unit, "%s is %s", text, unit->name);
    if (fuzz_mix((const uint8_t *)text, strlen(text)) % 8) return; /* distances would take half of the time */
    fuzz_require(brv_nearest_distance(text, text) == 0, "%s is itself", text);
    fuzz_require(brv_nearest_distance(text, "fluence") == brv_nearest_distance("fluence", text), "%s, both ways", text);
}

void fuzz_quantity(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    unsigned taken = 0;
    const unsigned every = fuzz_mix(data, size) % 8 ? 4 : 1; /* refusals in words cost most: a quarter of them */
    const unsigned first = fuzz_mix(data, size) % every;
    for (unsigned i = first; i < BRV_N_DIMENSION && fuzz_is_utf8(text, strlen(text)); i += every)
        taken += read_as(text, (enum brv_dimension)i);
    fuzz_require(taken <= 1, "%s has %u dimensions", text, taken);
    check_lack(text, taken);
    check_words(text);
    free(text);
}
