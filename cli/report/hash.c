#include "report/hash.h"

#include "scenario/keys.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define FNV_START 14695981039346656037u
#define FNV_PRIME 1099511628211u

static void add_value(uint64_t *hash, double value)
{
    char text[32];
    snprintf(text, sizeof text, "%.12g;", value);
    for (const char *c = text; *c; c++) *hash = (*hash ^ (unsigned char)*c) * FNV_PRIME;
}

static void add_list(uint64_t *hash, const char *field)
{
    size_t n;
    memcpy(&n, field - sizeof n, sizeof n);
    add_value(hash, (double)n);
    for (size_t i = 0; i < n; i++) add_value(hash, ((const double *)(const void *)field)[i]);
}

static void add_scope(uint64_t *hash, const void *scope_struct, enum brv_scope scope)
{
    for (size_t i = 0; i < brv_n_keys; i++) {
        if (brv_keys[i].scope != scope) continue;
        const char *field = (const char *)scope_struct + brv_keys[i].offset;
        if (brv_keys[i].kind == BRV_LIST)
            add_list(hash, field);
        else if (brv_keys[i].kind == BRV_WORD || brv_keys[i].kind == BRV_LAYER_REF)
            add_value(hash, *(const int *)(const void *)field);
        else
            add_value(hash, *(const double *)(const void *)field);
    }
}

/* Does any key of a section stand in the scenario? */
static bool is_given(const void *section)
{
    unsigned given;
    memcpy(&given, section, sizeof given); /* first member of every scope's struct */
    return given != 0;
}

const char *brv_hash_scenario(char out[BRV_HASH_SIZE], const struct brv_scenario *ask)
{
    struct brv_scenario copy = *ask; /* brv_key_scope hands out pointers that may be written to */
    uint64_t hash = FNV_START;
    for (size_t scope = 0; scope < BRV_N_SCOPE; scope++) {
        if (scope == BRV_SCOPE_LAYER || scope == BRV_SCOPE_GRAIN || scope == BRV_SCOPE_COLOUR)
            continue; /* skins follow */
        const void *section = brv_key_scope(&copy, (enum brv_scope)scope, 0, 0);
        if (scope >= BRV_SCOPE_LADDER && !is_given(section)) continue; /* what stands around the pulse, if it does */
        add_scope(&hash, section, (enum brv_scope)scope);
    }
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        for (size_t i = 0; i < copy.skin[site].n_layer; i++)
            add_scope(&hash, &copy.skin[site].layer[i], BRV_SCOPE_LAYER);
        add_scope(&hash, &copy.skin[site].grain, BRV_SCOPE_GRAIN);
    }
    snprintf(out, BRV_HASH_SIZE, "%016" PRIx64, hash);
    return out;
}
