#include "heat/heat_answer.h"

#include "base/array.h"
#include "light/light_sensitivity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the source ---- */

/* Of paler (0) or darker (1) grains: heat by one pulse, and what became of each part of it over the whole depth. */
struct other_source {
    double *deposit;      /* [n cell] [J/m2] */
    double rest, pigment; /* over what it was [1] */
};

static double part_of(double changed, double own)
{
    return own > 0.0 ? changed / own : 1.0;
}

/* Cells of one layer. The ratio of the light is known at a few depths only, but its mean over a layer is exact. */
static void lay_layer(struct other_source *other, double sum[4], const struct brv_layers *layers,
                      const struct brv_heat_ask *ask, size_t layer, size_t k)
{
    const struct brv_sensitivity *sensitivity = &ask->light->sensitivity;
    const double *face = layers->slab.face, uptake = sensitivity->uptake[k];
    const size_t first = layers->slab.first_cell[layer], end = layers->slab.first_cell[layer + 1];
    double own = 0.0, changed = 0.0;
    for (size_t i = first; i < end; i++) {
        const double depth = 0.5 * (face[i] + face[i + 1]) - layers->above;
        const double light = depth < 0.0 ? sensitivity->mean[k][layer] : brv_light_answer(ask->light, k, depth);
        other->deposit[i] = light;
        own += layers->deposit[i];
        changed += layers->deposit[i] * light;
    }
    const bool whole = isfinite(ask->tissue->layer[layer].thickness) && own > 0.0 && changed > 0.0;
    const double factor = whole ? sensitivity->mean[k][layer] * own / changed : 1.0;
    for (size_t i = first; i < end; i++) {
        const double light = factor * other->deposit[i], rest = layers->deposit[i] - layers->pigment[i];
        sum[0] += rest;
        sum[1] += rest * light;
        sum[2] += layers->pigment[i];
        sum[3] += layers->pigment[i] * uptake * light;
        other->deposit[i] = (rest + uptake * layers->pigment[i]) * light;
    }
}

static void lay_other(struct other_source *other, const struct brv_layers *layers, const struct brv_heat_ask *ask,
                      size_t k)
{
    double sum[4] = {0.0, 0.0, 0.0, 0.0};
    for (size_t layer = 0; layer < layers->slab.n_layer; layer++) lay_layer(other, sum, layers, ask, layer, k);
    other->rest = part_of(sum[1], sum[0]);
    other->pigment = part_of(sum[3], sum[2]);
}

/* ---- its heat ---- */

static brv_status run_other(double curve[], const struct other_source *other, struct brv_layers *layers,
                            const struct brv_heat_ask *ask, struct brv_error *error)
{
    struct brv_ledger ledger;
    struct brv_march_ask march = brv_layers_march(layers, ask);
    march.source.deposit = other->deposit;
    return brv_march_run(&ledger, curve, NULL, &layers->slab.chain, &march, error);
}

/* ---- both ---- */

void brv_answer_begin(struct brv_history *history, const struct brv_layers *layers)
{
    const size_t from = BRV_PROBE_LAYER * history->n_time, size = layers->n_probe * history->n_time * sizeof(double);
    memcpy(history->other[0] + from, history->rise + from, size);
    memcpy(history->other[1] + from, history->pigment + from, size);
}

/* history->other comes in as the layers' own curves, whole and pigment's part, and goes out as the two others. */
static void join(struct brv_history *history, const struct brv_layers *layers, const struct other_source other[2],
                 double *const curve[2])
{
    const size_t from = BRV_PROBE_LAYER * history->n_time;
    for (size_t i = 0; i < layers->n_probe * history->n_time; i++) {
        const double pigment = history->pigment[from + i] - history->other[1][from + i];
        const double rest = history->rise[from + i] - history->other[0][from + i] - pigment;
        for (size_t k = 0; k < 2; k++)
            history->other[k][from + i] = curve[k][i] + other[k].rest * rest + other[k].pigment * pigment;
    }
}

brv_status brv_answer_run(struct brv_history *history, struct brv_layers *layers, const struct brv_heat_ask *ask,
                          struct brv_error *error)
{
    const size_t n = layers->slab.chain.n;
    struct other_source other[2] = {{.deposit = brv_array_new(n)}, {.deposit = brv_array_new(n)}};
    double *const curve[2] = {brv_array_new(layers->n_probe * history->n_time),
                              brv_array_new(layers->n_probe * history->n_time)};
    brv_status status = BRV_OK;
    if (!(other[0].deposit && other[1].deposit && curve[0] && curve[1]))
        status = brv_error_raise(error, BRV_MEMORY, "heat");
    for (size_t k = 0; k < 2 && !status; k++) {
        lay_other(&other[k], layers, ask, k);
        status = run_other(curve[k], &other[k], layers, ask, error);
    }
    if (!status) join(history, layers, other, curve);
    for (size_t k = 0; k < 2; k++) {
        free(other[k].deposit);
        free(curve[k]);
    }
    return status;
}
