#include "side/visibility.h"

#include "base/team.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "side/colour.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define SHALLOWEST 50e-6  /* [m] */
#define DEEPEST    1.5e-3 /* [m] */
#define NOTHING    1e-12  /* thinner parts are rounding [m] */

const double brv_seen_wavelengths[BRV_N_SEEN] = {400e-9, 450e-9, 550e-9, 650e-9};

/* ---- which layer ---- */

static bool same(double one, double other)
{
    return !(one < other) && !(one > other);
}

/* Do two structs of a scope differ in any key but `but`? */
static bool differ(const void *one, const void *other, enum brv_scope scope, const char *but)
{
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *key = &brv_keys[i];
        const size_t size = key->kind == BRV_WORD || key->kind == BRV_LAYER_REF ? sizeof(int) : sizeof(double);
        if (key->scope != scope || !strcmp(key->name, but)) continue;
        if (memcmp((const char *)one + key->offset, (const char *)other + key->offset, size)) return true;
    }
    return false;
}

struct brv_seen_layer brv_visibility_layer(const struct brv_scenario *ask)
{
    const struct brv_skin *lesion = &ask->skin[BRV_LESION], *neighbour = &ask->skin[BRV_NEIGHBOUR];
    const struct brv_seen_layer standard = {BRV_SEEN_THICKNESS, BRV_SEEN_MELANOSOMES, false};
    size_t n = 0, which = 0;
    if (differ(&lesion->grain, &neighbour->grain, BRV_SCOPE_GRAIN, "")) return standard;
    for (size_t i = 0; i < lesion->n_layer; i++) {
        if (differ(&lesion->layer[i], &neighbour->layer[i], BRV_SCOPE_LAYER, "melanosomes")) return standard;
        if (same(lesion->layer[i].melanosomes, neighbour->layer[i].melanosomes)) continue;
        which = i;
        n++;
    }
    const struct brv_layer_ask *layer = &lesion->layer[which];
    const double more = layer->melanosomes - neighbour->layer[which].melanosomes;
    if (n != 1 || layer->kind != BRV_DERMIS || !isfinite(layer->thickness) || !(more > 0.0)) return standard;
    return (struct brv_seen_layer){layer->thickness, more, true};
}

/* ---- laid into the skin ---- */

static bool add_part(struct brv_skin *skin, const struct brv_layer_ask *of, double thickness, double melanosomes)
{
    if (!(thickness > NOTHING)) return true;
    if (skin->n_layer == BRV_MOST_LAYERS) return false;
    if (melanosomes > 0.0 && brv_key_given(of, BRV_SCOPE_LAYER, "absorption")) return false;
    struct brv_layer_ask *part = &skin->layer[skin->n_layer++];
    *part = *of;
    part->thickness = thickness;
    part->melanosomes = brv_melanosomes_times(of->melanosomes + melanosomes, 1.0);
    return true;
}

bool brv_visibility_insert(struct brv_skin *skin, const struct brv_seen_layer *layer, double depth)
{
    const struct brv_skin whole = *skin;
    const double from = depth, to = depth + layer->thickness;
    double top = 0.0;
    bool good = true;
    skin->n_layer = 0;
    for (size_t i = 0; i < whole.n_layer && good; i++) {
        const struct brv_layer_ask *of = &whole.layer[i];
        const double bottom = top + of->thickness;
        const double first = fmin(fmax(from, top), bottom), last = fmin(fmax(to, top), bottom);
        good = add_part(skin, of, first - top, 0.0) && add_part(skin, of, last - first, layer->melanosomes) &&
               add_part(skin, of, bottom - last, 0.0);
        top = bottom;
    }
    if (!good) *skin = whole;
    return good;
}

/* ---- what is seen ---- */

struct seeing {
    struct brv_visibility *seen;
    const struct brv_scenario *ask;
    double without[BRV_N_SEEN];
    struct brv_lab lab;
};

static brv_status look(double reflectance[BRV_N_SEEN], struct brv_lab *lab, const struct brv_scenario *ask,
                       struct brv_error *error)
{
    struct brv_colour colour;
    brv_status status = brv_colour_solve(&colour, ask, BRV_NEIGHBOUR, 1, error);
    if (!status)
        status = brv_colour_spectrum(reflectance, NULL, ask, BRV_NEIGHBOUR, BRV_N_SEEN, brv_seen_wavelengths, 1, error);
    *lab = colour.lab;
    return status;
}

static brv_status one_depth(void *context, size_t item, struct brv_error *error)
{
    const struct seeing *work = context;
    struct brv_visibility *seen = work->seen;
    struct brv_scenario skin = *work->ask;
    double with[BRV_N_SEEN];
    struct brv_lab lab;
    const bool laid = brv_visibility_insert(&skin.skin[BRV_NEIGHBOUR], &seen->layer, seen->depth[item]);
    assert(laid);
    const brv_status status = look(with, &lab, &skin, error);
    if (status) return status;
    for (size_t k = 0; k < BRV_N_SEEN; k++) seen->contrast[item][k] = (work->without[k] - with[k]) / work->without[k];
    seen->lightness[item] = lab.lightness - work->lab.lightness;
    seen->red[item] = lab.red - work->lab.red;
    seen->yellow[item] = lab.yellow - work->lab.yellow;
    return BRV_OK;
}

/* Even in the logarithm, between the top of the first dermis and where the stack of dermis ends; false: there is none. */
static bool lay_depths(struct brv_visibility *seen, const struct brv_skin *skin)
{
    double top = 0.0, first = INFINITY, last = 0.0;
    for (size_t i = 0; i < skin->n_layer; i++) {
        const double bottom = top + skin->layer[i].thickness;
        if (skin->layer[i].kind == BRV_DERMIS) {
            first = fmin(first, top);
            last = bottom;
        }
        top = bottom;
    }
    first = fmax(first, SHALLOWEST);
    last = fmin(last - seen->layer.thickness, DEEPEST);
    if (!(last > first)) return false;
    seen->n = BRV_MOST_SEEN_DEPTH;
    for (size_t i = 0; i < seen->n; i++) seen->depth[i] = first * pow(last / first, (double)i / (double)(seen->n - 1));
    seen->depth[seen->n - 1] = last;
    for (size_t i = 0; i < seen->n; i++) {
        struct brv_skin copy = *skin;
        if (!brv_visibility_insert(&copy, &seen->layer, seen->depth[i])) return false;
    }
    return true;
}

brv_status brv_visibility_solve(struct brv_visibility *seen, const struct brv_scenario *ask,
                                const struct brv_seen_layer *layer, unsigned threads, struct brv_error *error)
{
    const struct brv_scenario bare = brv_film_removed(ask);
    struct seeing work = {.seen = seen, .ask = &bare};
    *seen = (struct brv_visibility){.layer = *layer};
    if (!lay_depths(seen, &bare.skin[BRV_NEIGHBOUR])) {
        seen->n = 0;
        return BRV_OK;
    }
    seen->possible = true;
    brv_status status = look(work.without, &work.lab, &bare, error);
    if (!status) status = brv_team_run(seen->n, threads, one_depth, &work, error);
    if (status) *seen = (struct brv_visibility){.possible = false};
    return status;
}
