#include "scenario/body.h"

#include "scenario/keys.h"

#include <assert.h>
#include <string.h>

#define NO_VALUE                                                                                                       \
    {                                                                                                                  \
        .value = 0.0                                                                                                   \
    }

/* clang-format off */
const struct brv_body_site brv_body_sites[BRV_N_BODY_SITE] = {
/* name, where, {value, low, high, method, source, seen, low and high chosen} of epidermis, horny layer, dermis.
 * Ultrasound: 49 men and 69 women, mean of all; low and high reach from the lower 5 of 100 of the one group to the upper
 * 5 of 100 of the other.                                                                                            */
{"dorsal_forearm", "back of the forearm",
 {56.6e-6, 37.7e-6, 75.5e-6, "histology", "sandby-moller-2003", "abstract", false},
 {18.3e-6, 10.2e-6, 26.4e-6, "histology", "sandby-moller-2003", "abstract", false},
 NO_VALUE},
{"shoulder", "shoulder",
 {70.3e-6, 47.9e-6, 92.7e-6, "histology", "sandby-moller-2003", "abstract", false},
 {11.0e-6, 7.4e-6, 14.6e-6, "histology", "sandby-moller-2003", "abstract", false},
 NO_VALUE},
{"buttock", "buttock",
 {81.5e-6, 55.7e-6, 107.3e-6, "histology", "sandby-moller-2003", "abstract", false},
 {14.9e-6, 9.3e-6, 20.5e-6, "histology", "sandby-moller-2003", "abstract", false},
 NO_VALUE},
{"upper_lip", "upper lip, the thickest of 39 places of the face",
 {62.6e-6, 41.7e-6, 83.5e-6, "histology", "chopra-2015", "abstract", true},
 NO_VALUE,
 NO_VALUE},
{"behind_ear", "behind the ear, the thinnest of 39 places of the face",
 {29.6e-6, 19.7e-6, 39.5e-6, "histology", "chopra-2015", "abstract", true},
 NO_VALUE,
 NO_VALUE},
{"face", "six regions of the face together",
 {94.3e-6, 65.9e-6, 122.8e-6, "microscope", "selcuk-thickness", "abstract", false},
 NO_VALUE,
 {1525e-6, 1107e-6, 1943e-6, "microscope", "selcuk-thickness", "abstract", false}},
{"back_of_hand", "back of the hand",
 {85e-6, 56.7e-6, 113.3e-6, "microscope", "whitton-everall-1973", "memory", true},
 NO_VALUE,
 NO_VALUE},
{"forehead", "forehead",
 NO_VALUE,
 NO_VALUE,
 {989e-6, 597e-6, 1631e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"glabella", "between the brows",
 NO_VALUE,
 NO_VALUE,
 {1000e-6, 522e-6, 1634e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"temple", "temple",
 NO_VALUE,
 NO_VALUE,
 {908e-6, 487e-6, 1389e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"eyelid", "eyelid",
 NO_VALUE,
 NO_VALUE,
 {617e-6, 399e-6, 900e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"nose", "back of the nose",
 NO_VALUE,
 NO_VALUE,
 {972e-6, 519e-6, 1341e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"cheek", "cheek bone",
 NO_VALUE,
 NO_VALUE,
 {982e-6, 294e-6, 1485e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"submandibular", "below the jaw",
 NO_VALUE,
 NO_VALUE,
 {956e-6, 351e-6, 1469e-6, "ultrasound", "ultrasound-2022", "seen", false}},
{"neck", "neck",
 NO_VALUE,
 NO_VALUE,
 {986e-6, 618e-6, 1342e-6, "ultrasound", "ultrasound-2022", "seen", false}},
};
/* clang-format on */

int brv_body_find(const char *name)
{
    for (int i = 0; i < BRV_N_BODY_SITE; i++)
        if (!strcmp(brv_body_sites[i].name, name)) return i;
    return -1;
}

static void give(struct brv_layer_ask *layer, const char *name)
{
    layer->given |= brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, name));
}

static struct brv_layer_ask layer_of(enum brv_layer_kind kind)
{
    struct brv_layer_ask layer = {.kind = (int)kind};
    give(&layer, "kind");
    return layer;
}

static void make_thick(struct brv_layer_ask *layer, double thickness)
{
    layer->thickness = thickness;
    give(layer, "thickness");
}

static void place_epidermis(struct brv_skin *skin, const struct brv_measured *measured)
{
    const size_t upper = brv_skin_layer(skin, BRV_EPIDERMIS);
    if (!(measured->value > 0.0) || upper == skin->n_layer) return;
    const double thickness = measured->value - BRV_BODY_BASAL;
    make_thick(&skin->layer[upper], thickness);
    skin->layer[upper].melanosomes *= BRV_BODY_UPPER / thickness;
}

static void place_horny(struct brv_skin *skin, const struct brv_measured *measured)
{
    if (!(measured->value > 0.0)) return;
    memmove(&skin->layer[1], &skin->layer[0], skin->n_layer * sizeof *skin->layer);
    skin->layer[0] = layer_of(BRV_HORNY);
    make_thick(&skin->layer[0], measured->value);
    skin->n_layer++;
}

static void place_dermis(struct brv_skin *skin, const struct brv_measured *measured)
{
    const size_t dermis = brv_skin_layer(skin, BRV_DERMIS);
    if (!(measured->value > 0.0) || dermis == skin->n_layer) return;
    make_thick(&skin->layer[dermis], measured->value);
    skin->layer[skin->n_layer++] = layer_of(BRV_FAT);
}

void brv_body_place(struct brv_skin *skin, const struct brv_body_site *site)
{
    assert(skin->n_layer + 2 <= BRV_MOST_LAYERS);
    place_epidermis(skin, &site->epidermis);
    place_horny(skin, &site->horny);
    place_dermis(skin, &site->dermis);
    skin->body = 1 + (int)(site - brv_body_sites);
}
