#include "scenario/allowed.h"

#include "scenario/unit.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

/* Pulses come in hertz, blood flows per second. */
static const struct brv_unit *range_unit(const struct brv_key *key)
{
    if (key->scope == BRV_SCOPE_PULSE && key->dimension == BRV_PER_TIME) return brv_unit_find("Hz");
    return brv_unit_common(key->least, key->most, key->dimension);
}

static void write_words(char out[BRV_ALLOWED_SIZE], const char *const *words)
{
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; words[i] && n < BRV_ALLOWED_SIZE; i++) {
        const char *join = i == 0 ? "" : words[i + 1] ? ", " : " or ";
        n += (size_t)snprintf(out + n, BRV_ALLOWED_SIZE - n, "%s%s", join, words[i]);
    }
}

static void write_range(char out[BRV_ALLOWED_SIZE], const struct brv_key *key)
{
    char least[BRV_UNIT_VALUE_SIZE], most[BRV_UNIT_VALUE_SIZE];
    const struct brv_unit *unit = range_unit(key);
    brv_unit_value(least, key->least, unit ? unit : brv_unit_best(key->least, key->dimension));
    brv_unit_value(most, key->most, unit ? unit : brv_unit_best(key->most, key->dimension));
    snprintf(out, BRV_ALLOWED_SIZE, key->above ? "above %s, at most %s%s" : "%s to %s%s", least, most,
             key->kind == BRV_EXTENT ? ", or endless" : "");
}

const char *brv_allowed(char out[BRV_ALLOWED_SIZE], const struct brv_key *key)
{
    if (key->kind == BRV_WORD)
        write_words(out, key->words);
    else if (key->kind == BRV_LAYER_REF)
        snprintf(out, BRV_ALLOWED_SIZE, "the name of a layer");
    else
        write_range(out, key);
    return out;
}

const char *brv_allowed_said(char out[BRV_ALLOWED_SIZE], const struct brv_key *key)
{
    char allowed[BRV_ALLOWED_SIZE];
    const bool single = key->kind == BRV_WORD && !key->words[1];
    if (single)
        snprintf(out, BRV_ALLOWED_SIZE, "the only value is the word `%s`", key->words[0]);
    else if (key->kind == BRV_LAYER_REF)
        snprintf(out, BRV_ALLOWED_SIZE, "the name of a layer is wanted");
    else
        snprintf(out, BRV_ALLOWED_SIZE, "allowed %.150s", brv_allowed(allowed, key));
    return out;
}

const char *brv_allowed_value(char out[BRV_ALLOWED_SIZE], const struct brv_key *key, double value)
{
    char number[BRV_UNIT_VALUE_SIZE];
    const struct brv_unit *unit = range_unit(key);
    if (isnan(value) || key->kind == BRV_LAYER_REF)
        snprintf(out, BRV_ALLOWED_SIZE, "none");
    else if (key->kind == BRV_WORD)
        snprintf(out, BRV_ALLOWED_SIZE, "%s", key->words[(size_t)value]);
    else
        snprintf(out, BRV_ALLOWED_SIZE, "%s",
                 brv_unit_value(number, value, unit ? unit : brv_unit_best(value, key->dimension)));
    return out;
}
