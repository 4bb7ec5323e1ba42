#include "scenario/film.h"

#include "scenario/keys.h"

#include <assert.h>
#include <string.h>

#define FILM_ANISOTROPY 0.85 /* of what scatters in it, as in skin; only the reduced scattering is asked for */

bool brv_film_covers(const struct brv_skin *skin)
{
    return skin->n_layer > 0 && skin->layer[0].kind == BRV_FILM;
}

double brv_film_thickness(const struct brv_skin *skin)
{
    return brv_film_covers(skin) ? skin->layer[0].thickness : 0.0;
}

static void cover(struct brv_skin *skin)
{
    if (skin->n_layer == 0 || brv_film_covers(skin)) return;
    assert(skin->n_layer < BRV_MOST_LAYERS);
    memmove(&skin->layer[1], &skin->layer[0], skin->n_layer * sizeof *skin->layer);
    skin->layer[0] = (struct brv_layer_ask){.kind = BRV_FILM};
    skin->n_layer++;
    if (skin->grain.layer >= 0 && brv_key_given(&skin->grain, BRV_SCOPE_GRAIN, "layer")) skin->grain.layer++;
}

void brv_film_cover(struct brv_scenario *ask)
{
    for (size_t site = 0; site < BRV_N_SITE && ask->film.given; site++) cover(&ask->skin[site]);
}

/* Which keys of a layer a film gives: absorption and scattering always, so that no composition is looked for; the others
 * where the user gave them.                                                                                         */
static unsigned given_of(const struct brv_film_ask *film)
{
    static const char *const name[] = {"thickness",    "absorption", "reduced_scattering", "index",
                                       "conductivity", "density",    "heat_capacity"};
    unsigned given = 0;
    for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
        const bool always = i == 1 || i == 2;
        if (always || brv_key_given(film, BRV_SCOPE_FILM, name[i]))
            given |= brv_key_bit((size_t)brv_key_find(BRV_SCOPE_LAYER, name[i]));
    }
    return given;
}

void brv_film_lay(struct brv_scenario *ask)
{
    const struct brv_film_ask *film = &ask->film;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        if (!brv_film_covers(&ask->skin[site])) continue;
        ask->skin[site].layer[0] = (struct brv_layer_ask){.given = given_of(film),
                                                          .kind = BRV_FILM,
                                                          .thickness = film->thickness,
                                                          .absorption = film->absorption,
                                                          .reduced_scattering = film->reduced_scattering,
                                                          .anisotropy = FILM_ANISOTROPY,
                                                          .index = film->index,
                                                          .conductivity = film->conductivity,
                                                          .density = film->density,
                                                          .heat_capacity = film->heat_capacity};
    }
}

struct brv_scenario brv_film_removed(const struct brv_scenario *ask)
{
    struct brv_scenario bare = *ask;
    bare.film.given = 0;
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_skin *skin = &bare.skin[site];
        if (!brv_film_covers(skin)) continue;
        skin->n_layer--;
        memmove(&skin->layer[0], &skin->layer[1], skin->n_layer * sizeof *skin->layer);
        if (skin->grain.layer > 0) skin->grain.layer--;
    }
    return bare;
}
