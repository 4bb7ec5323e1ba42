#include "report/difference.h"

#include "scenario/rival.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double number_of(const void *scope_struct, size_t row)
{
    const char *field = (const char *)scope_struct + brv_keys[row].offset;
    double number;
    int word;
    if (brv_keys[row].kind == BRV_WORD || brv_keys[row].kind == BRV_LAYER_REF) {
        memcpy(&word, field, sizeof word);
        return word;
    }
    memcpy(&number, field, sizeof number);
    return number;
}

static bool given(const void *scope_struct, size_t row)
{
    return brv_key_given(scope_struct, brv_keys[row].scope, brv_keys[row].name);
}

/* A key that has given way to another says nothing any more: melanosomes beside absorption. */
static bool replaced(const void *scope_struct, size_t row)
{
    const struct brv_key *key = &brv_keys[row];
    for (size_t i = 0; i < brv_n_keys && !given(scope_struct, row); i++)
        if (brv_keys[i].scope == key->scope && given(scope_struct, i) &&
            brv_rival(brv_scope_name(key->scope), key->name, brv_keys[i].name))
            return true;
    return false;
}

/* Has it a value at all? Scattering that nobody gave is that of its kind at this wavelength. */
static bool has_value(const void *scope_struct, size_t row)
{
    return given(scope_struct, row) || !isnan(brv_keys[row].standard[0]) || brv_keys[row].kind == BRV_LAYER_REF;
}

static void show(char out[BRV_ALLOWED_SIZE], const struct brv_request *request, const void *scope_struct, size_t row)
{
    const struct brv_key *key = &brv_keys[row];
    const double value = number_of(scope_struct, row);
    if (key->kind == BRV_LAYER_REF)
        snprintf(out, BRV_ALLOWED_SIZE, "%s", value < 0.0 ? "the densest" : request->layer_name[(size_t)value]);
    else if (!has_value(scope_struct, row))
        snprintf(out, BRV_ALLOWED_SIZE, "not given");
    else
        brv_allowed_value(out, key, value);
}

bool brv_difference_next(struct brv_difference *difference, const struct brv_request *request)
{
    const struct brv_skin *lesion = &request->scenario.skin[BRV_LESION];
    const struct brv_skin *neighbour = &request->scenario.skin[BRV_NEIGHBOUR];
    for (; difference->next_part <= lesion->n_layer; difference->next_part++, difference->next_row = 0) {
        const size_t part = difference->next_part;
        const bool grain = part == lesion->n_layer;
        const void *here = grain ? (const void *)&lesion->grain : (const void *)&lesion->layer[part];
        const void *there = grain ? (const void *)&neighbour->grain : (const void *)&neighbour->layer[part];
        while (difference->next_row < brv_n_keys) {
            const size_t row = difference->next_row++;
            if (brv_keys[row].scope != (grain ? BRV_SCOPE_GRAIN : BRV_SCOPE_LAYER)) continue;
            const double a = number_of(there, row), b = number_of(here, row);
            if ((!(a < b) && !(a > b)) || replaced(here, row)) continue;
            difference->owner = grain ? "grain" : request->layer_name[part];
            difference->key = &brv_keys[row];
            difference->of_grain = grain;
            difference->here_given = has_value(here, row);
            difference->there_given = has_value(there, row);
            show(difference->here, request, here, row);
            show(difference->there, request, there, row);
            return true;
        }
    }
    return false;
}
