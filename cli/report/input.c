#include "report/input.h"

#include "scenario/keys.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

static const struct {
    const char *name;
    enum brv_dimension dimension;
} special[BRV_N_INPUT_ID] = {
    [BRV_INPUT_ENERGY] = {"energy of a pulse", BRV_ENERGY},
    [BRV_INPUT_SPOT] = {"diameter of the spot", BRV_LENGTH},
    [BRV_INPUT_SKIN_PIGMENT] = {"pigment of the skin", BRV_SHARE},
    [BRV_INPUT_BASAL_SHARE] = {"basal share of the pigment", BRV_SHARE},
    [BRV_INPUT_LESION_FACTOR] = {"factor of the lesion's pigment", BRV_PURE},
    [BRV_INPUT_SCATTERING] = {"scattering at 500 nm", BRV_PER_LENGTH},
    [BRV_INPUT_SCATTERING_POWER] = {"power of scattering", BRV_PURE},
    [BRV_INPUT_TRANSFER] = {"heat transfer at the surface", BRV_TRANSFER},
    [BRV_INPUT_OUTSIDE_INDEX] = {"index of what lies on the skin", BRV_PURE},
};

/* "diameter_spread" becomes "diameter spread". */
static void in_words(char out[40], const char *key)
{
    snprintf(out, 40, "%s", key);
    for (char *c = out; *c; c++)
        if (*c == '_') *c = ' ';
}

/* " of basal", " of epidermis and basal", " of all layers"; no commas, which gnuplot takes for the end of a name. */
static void add_layers(char out[BRV_INPUT_NAME_SIZE], unsigned layers, const struct brv_request *request)
{
    const size_t n_layer = request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    size_t n = strlen(out), left = 0, told = 0;
    for (size_t i = 0; i < n_layer; i++) left += layers >> i & 1u;
    if (left == n_layer && n_layer > 1) {
        snprintf(out + n, BRV_INPUT_NAME_SIZE - n, " of all layers");
        return;
    }
    for (size_t i = 0; i < n_layer && n < BRV_INPUT_NAME_SIZE; i++) {
        if (!(layers >> i & 1u)) continue;
        const char *before = told == 0 ? " of " : " and ";
        n += (size_t)snprintf(out + n, BRV_INPUT_NAME_SIZE - n, "%s%s", before, request->layer_name[i]);
        told++;
    }
}

static void add_site(char out[BRV_INPUT_NAME_SIZE], const struct brv_input *input)
{
    const size_t n = strlen(out);
    const enum brv_scope scope = brv_keys[input->key].scope;
    if (input->where[BRV_LESION] == input->where[BRV_NEIGHBOUR]) return;
    if (scope != BRV_SCOPE_LAYER && scope != BRV_SCOPE_GRAIN) return;
    if (!input->where[BRV_NEIGHBOUR]) snprintf(out + n, BRV_INPUT_NAME_SIZE - n, " (lesion)");
    if (!input->where[BRV_LESION]) snprintf(out + n, BRV_INPUT_NAME_SIZE - n, " (neighbour)");
}

const char *brv_input_name(char out[BRV_INPUT_NAME_SIZE], const struct brv_input *input,
                           const struct brv_request *request)
{
    const struct brv_key *key = &brv_keys[input->key];
    char words[40];
    in_words(words, key->name);
    if (input->id != BRV_INPUT_KEY) {
        snprintf(out, BRV_INPUT_NAME_SIZE, "%s", special[input->id].name);
    } else if (key->scope == BRV_SCOPE_LAYER) {
        snprintf(out, BRV_INPUT_NAME_SIZE, "%s", words);
        add_layers(out, input->where[BRV_LESION] | input->where[BRV_NEIGHBOUR], request);
    } else {
        const bool plain =
            key->scope == BRV_SCOPE_WATCH || key->scope == BRV_SCOPE_LIGHT || key->scope == BRV_SCOPE_PULSE;
        snprintf(out, BRV_INPUT_NAME_SIZE, "%s%s%s", plain ? "" : brv_scope_name(key->scope), plain ? "" : " ", words);
    }
    if (input->id == BRV_INPUT_KEY) add_site(out, input);
    return out;
}

enum brv_dimension brv_input_dimension(const struct brv_input *input)
{
    return input->id == BRV_INPUT_KEY ? brv_keys[input->key].dimension : special[input->id].dimension;
}

const char *brv_input_unit(const struct brv_input *input)
{
    static const char *const si[BRV_N_DIMENSION] = {
        [BRV_PURE] = "1",
        [BRV_SHARE] = "1",
        [BRV_LENGTH] = "m",
        [BRV_TIME] = "s",
        [BRV_ENERGY] = "J",
        [BRV_FLUENCE] = "J/m2",
        [BRV_PER_LENGTH] = "1/m",
        [BRV_PER_TIME] = "1/s",
        [BRV_TEMPERATURE] = "K",
        [BRV_CONDUCTIVITY] = "W/m/K",
        [BRV_TRANSFER] = "W/m2/K",
        [BRV_DENSITY] = "kg/m3",
        [BRV_HEAT_CAPACITY] = "J/kg/K",
    };
    return si[brv_input_dimension(input)];
}
