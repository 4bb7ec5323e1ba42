/* The uncertain inputs of a scenario: which numbers it rests on without having said them, and between what they may lie.
 * From the table of keys come all with a low and a high that the scenario did not give: what the user wrote is held,
 * unless it is opened. Layers that share default, low and high of a key are drawn together, as one input; so are lesion
 * and neighbour where they have the same value. Beside the keys:
 *     energy          of a pulse, 20 % either way            Source: [output-tolerance], second-hand
 *     spot            its diameter, 5 % either way           this project's choice (2 to 10 %)
 *     skin pigment    of a ready skin, as a whole            model/scenario, brv_ready_skins
 *     basal share     of it that lies in the basal row, the whole kept; what cannot be packed there lies above it
 *     lesion factor   where no lesion is described
 *     scattering      mu_s' at 500 nm, 46 (27 to 60) /cm, and its power, 1.421 (1.0 to 1.6), of layers that say
 *                     nothing else                           Source: [jacques-2013], from memory
 *     transfer        to what lies on the skin, and index of a gel or plate, where not given
 *                                                            Source: [surface-coefficients], from memory
 *     body site       measured thicknesses of a site, from its own ranges in place of those of the keys; pigment per area
 *                     of a ready skin is kept             model/scenario, brv_body_sites
 * Words are no inputs, nor are watch.tan, which is in no headline, and what lays things out in time.
 * How they are drawn: study/draw.h. Tests: tests/unit/test_inputs.c.                                              */
#ifndef BRV_STUDY_INPUTS_H
#define BRV_STUDY_INPUTS_H

#include "scenario/keys.h"

#include <stdbool.h>
#include <stddef.h>

enum brv_input_id {
    BRV_INPUT_KEY,              /* one key of the table */
    BRV_INPUT_ENERGY,           /* of a pulse [J] */
    BRV_INPUT_SPOT,             /* its diameter [m] */
    BRV_INPUT_SKIN_PIGMENT,     /* of the whole epidermis of a ready skin [1] */
    BRV_INPUT_BASAL_SHARE,      /* of it in the basal row [1] */
    BRV_INPUT_LESION_FACTOR,    /* pigment of the lesion's basal rows over the neighbour's [1] */
    BRV_INPUT_SCATTERING,       /* reduced, at 500 nm [1/m] */
    BRV_INPUT_SCATTERING_POWER, /* of its fall with wavelength [1] */
    BRV_INPUT_TRANSFER,         /* to what lies on the skin [W/m2/K] */
    BRV_INPUT_OUTSIDE_INDEX,    /* of a gel or plate that lies there during the pulses [1] */
    BRV_N_INPUT_ID
};

struct brv_input {
    enum brv_input_id id;
    size_t key;                 /* row of the key; of a special input, that of the key it is told by */
    unsigned where[BRV_N_SITE]; /* bit i: layer i of that site; bit 0 for what is in no layer; 0: not there */
    double value, low, high;    /* SI */
    bool ratio;                 /* drawn evenly in the logarithm */
    bool opened;                /* by the user */
    const char *source, *seen;  /* as in the table of keys */
};

/* A value of the scenario that the user opens: site and layer as in brv_key_scope, low <= value <= high. */
struct brv_opened {
    size_t key, site, layer;
    double low, high;
};

enum { BRV_MOST_INPUTS = 96, BRV_MOST_OPENED = 32 };

struct brv_inputs {
    size_t n;
    struct brv_input input[BRV_MOST_INPUTS]; /* opened ones first, then those that mostly matter */
};

/* Can this key be opened at all? A number, and none that counts, lays out time or is in no headline. */
bool brv_inputs_can_open(size_t key);

/* The value of a key that the user may open, in SI; NAN where it says nothing: not given and without a default, or
 * without an end.                                                                                             */
double brv_inputs_value(const struct brv_scenario *ask, size_t key, size_t site, size_t layer);

/* Lists the inputs of a filled and checked scenario. */
void brv_inputs_list(struct brv_inputs *inputs, const struct brv_scenario *ask, const struct brv_opened opened[],
                     size_t n_opened);

/* Was this value, which is in no layer, opened by the user? */
bool brv_inputs_opened(const struct brv_inputs *inputs, enum brv_scope scope, const char *name);

/* Layers of a site whose scattering is drawn, bit i for layer i: those that say nothing of it. */
unsigned brv_inputs_scattering(const struct brv_scenario *ask, size_t site);

#endif
