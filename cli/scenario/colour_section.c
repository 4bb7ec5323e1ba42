#include "scenario/colour_section.h"

#include "side/colour.h"

#include <math.h>
#include <string.h>

static const struct brv_node *written(const struct brv_walk *walk, const char *key)
{
    return walk->written[BRV_NEIGHBOUR][0][brv_walk_row("skin.colour", key)].node;
}

/* Pigment of an epidermis or a basal row that is written beside the colour. */
static bool pigment_written(const struct brv_walk *walk)
{
    static const char *const key[] = {"melanosomes", "absorption"};
    const struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    bool found = false;
    for (size_t i = 0; i < skin->n_layer; i++)
        for (size_t k = 0; k < sizeof key / sizeof *key; k++) {
            char path[BRV_WALK_PATH_SIZE];
            const size_t row = (size_t)brv_walk_row("skin", key[k]);
            const struct brv_node *node = walk->written[BRV_NEIGHBOUR][i][row].node;
            if (!node || (skin->layer[i].kind != BRV_EPIDERMIS && skin->layer[i].kind != BRV_BASAL)) continue;
            found = true;
            brv_walk_fault(
                walk, brv_node_place(node),
                "%s: skin.colour says how much pigment there is; give one or the other (the lesion may differ)",
                brv_walk_path(path, walk, row, BRV_NEIGHBOUR, i));
        }
    return found;
}

/* The skin as it will be, sound enough to be computed: what is wrong elsewhere is listed by others. */
static bool is_sound(struct brv_scenario *filled, const struct brv_walk *walk)
{
    struct brv_error fault[64];
    *filled = walk->request->scenario;
    filled->lesion_given = 0;
    brv_scenario_fill(filled);
    const size_t n = brv_scenario_check(filled, fault, sizeof fault / sizeof *fault);
    if (walk->faults->n > 0 || n > sizeof fault / sizeof *fault) return false;
    for (size_t i = 0; i < n; i++)
        if (fault[i].scope == BRV_SCOPE_LAYER || fault[i].scope == BRV_SCOPE_GRAIN ||
            fault[i].scope == BRV_SCOPE_BELOW || fault[i].scope == BRV_SCOPE_COLOUR)
            return false;
    return true;
}

static void tell_impossible(const struct brv_walk *walk, const struct brv_skin_colour *colour, double ita,
                            const struct brv_colour_bounds *bounds)
{
    const struct brv_node *node = written(walk, "L");
    if (colour->lightness < bounds->least_lightness || colour->lightness > bounds->greatest_lightness)
        brv_walk_fault(walk, brv_node_place(node),
                       "skin.colour.L = %g: with 60 %% to no melanosomes this skin can have L* from %.1f to %.1f",
                       colour->lightness, bounds->least_lightness, bounds->greatest_lightness);
    else
        brv_walk_fault(
            walk, brv_node_place(node),
            "skin.colour.L = %g with b = %g is an ITA of %.1f degrees: with 60 %% to no melanosomes this skin can "
            "have ITA from %.1f to %.1f",
            colour->lightness, colour->yellow, ita, bounds->darkest.ita, bounds->clear.ita);
}

static bool is_within(const struct brv_skin_colour *colour, const struct brv_colour_pigment *pigment,
                      const struct brv_colour_bounds *bounds)
{
    return pigment->possible && colour->lightness >= bounds->least_lightness &&
           colour->lightness <= bounds->greatest_lightness;
}

/* Which colour the skin that was made has: one number was fitted, so L* and b* need not both be those measured. */
static void look_at_it(const struct brv_walk *walk, struct brv_scenario *filled)
{
    struct brv_skin_colour *colour = &walk->request->scenario.skin[BRV_NEIGHBOUR].colour;
    struct brv_colour made;
    struct brv_error error = {.place = ""};
    brv_skin_pigment(&filled->skin[BRV_NEIGHBOUR], colour->melanosomes, BRV_BASAL_SHARE);
    const brv_status status = brv_colour_solve(&made, filled, BRV_NEIGHBOUR, 1, &error);
    if (status == BRV_MEMORY) walk->faults->out_of_memory = 1;
    if (status) return;
    colour->made_lightness = made.lab.lightness;
    colour->made_yellow = made.lab.yellow;
}

/* One thread: a scenario is read before anybody says how many there may be, and it takes about 0.1 s. */
void brv_colour_section(struct brv_walk *walk)
{
    struct brv_skin *skin = &walk->request->scenario.skin[BRV_NEIGHBOUR];
    struct brv_skin_colour *colour = &skin->colour;
    struct brv_scenario filled;
    struct brv_colour_pigment pigment;
    struct brv_colour_bounds bounds;
    struct brv_error error = {.place = ""};
    if (pigment_written(walk) || !is_sound(&filled, walk)) return;

    const double ita = brv_cie_ita(colour->lightness, colour->yellow);
    double by_lightness = 0.0;
    brv_status status = brv_colour_invert(&pigment, &bounds, &filled, 1, &ita, 1, &error);
    if (!status) status = brv_colour_by_lightness(&by_lightness, &filled, colour->lightness, &error);
    if (status == BRV_MEMORY) {
        walk->faults->out_of_memory = 1;
    } else if (status) {
        brv_walk_fault(walk, walk->section[BRV_SCOPE_COLOUR].node->key_at,
                       "skin.colour: no pigment was found for it within the tolerance");
    } else if (!is_within(colour, &pigment, &bounds)) {
        tell_impossible(walk, colour, ita, &bounds);
    } else {
        colour->melanosomes = pigment.value;
        colour->low = fmin(pigment.low, by_lightness);
        colour->high = fmax(pigment.high, by_lightness);
        brv_skin_pigment(skin, pigment.value, BRV_BASAL_SHARE);
        look_at_it(walk, &filled);
    }
}

void brv_colour_refuse_beside(struct brv_walk *walk, const struct brv_node *skin)
{
    const struct brv_target target = {BRV_SCOPE_COLOUR, BRV_NEIGHBOUR, 0, false};
    const struct brv_node *colour = brv_node_child(skin, "colour"), *ready = brv_node_child(skin, "ready");
    if (ready)
        brv_walk_fault(walk, ready->key_at, "skin.ready: the skin here is the ready one called %s; one word says which",
                       skin->text);
    if (!colour || colour->refused) return;
    brv_walk_keys(walk, target, colour); /* what is wrong with them in any skin */
    walk->request->scenario.skin[BRV_NEIGHBOUR].colour.given = 0;
    for (size_t i = 0; i < colour->n; i++) {
        const int row = brv_walk_row("skin.colour", colour->child[i].key);
        if (row < 0 || walk->written[BRV_NEIGHBOUR][0][row].failed) continue;
        brv_walk_fault(
            walk, colour->child[i].key_at,
            "skin.colour.%s: the skin here is the ready one called %s, which has its own pigment; a measured "
            "colour stands in its place, as in skin: {colour: {L: 62, b: 17}}",
            brv_keys[row].name, skin->text);
    }
}
