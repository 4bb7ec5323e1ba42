#include "light/light_sensitivity.h"

#include "base/constants.h"
#include "scenario/keys.h"

#include <math.h>

#define DEEPEST 3e-3 /* deeper, the ratio is held [m] */

static const double darknesses[2] = {BRV_DARKNESS_LOW, BRV_DARKNESS_HIGH};

static struct brv_scenario as_dark(const struct brv_scenario *ask, size_t which, double darkness)
{
    struct brv_scenario copy = *ask;
    copy.skin[which].grain.darkness *= darkness;
    copy.skin[which].grain.absorption *= darkness;
    if (copy.beam.method == BRV_METHOD_SAMPLED) copy.beam.method = BRV_METHOD_SPOT;
    return copy;
}

static double depth_of(const struct brv_sensitivity *sensitivity, size_t i)
{
    const double share = (double)i / (BRV_N_ANSWER - 1);
    return sensitivity->deepest * share * share;
}

static double ratio(double one, double other)
{
    return other > 0.0 ? one / other : 1.0;
}

/* One more solve, against `own`. */
static brv_status sense(struct brv_sensitivity *sensitivity, size_t k, const struct brv_light *own,
                        const struct brv_tissue *own_tissue, const struct brv_scenario *ask, size_t which,
                        const struct brv_control *control, struct brv_error *error)
{
    const struct brv_scenario copy = as_dark(ask, which, darknesses[k]);
    struct brv_tissue tissue;
    struct brv_light light;
    brv_tissue_resolve(&tissue, &copy, which);
    const brv_status status = brv_light_solve(&light, &tissue, &copy.beam, control, error);
    if (status) return status;
    sensitivity->uptake[k] =
        tissue.grain.absorption * tissue.grain.shading / (own_tissue->grain.absorption * own_tissue->grain.shading);
    for (size_t i = 0; i < tissue.n_layer; i++)
        sensitivity->mean[k][i] = ratio(light.mean_fluence[i], own->mean_fluence[i]);
    for (size_t i = 0; i < BRV_N_ANSWER; i++) {
        const double depth = depth_of(sensitivity, i);
        sensitivity->at[k][i] = ratio(brv_light_fluence(&light, depth), brv_light_fluence(own, depth));
    }
    brv_light_free(&light);
    return BRV_OK;
}

static brv_status sense_both(struct brv_sensitivity *sensitivity, const struct brv_light *own,
                             const struct brv_tissue *tissue, const struct brv_scenario *ask, size_t which,
                             const struct brv_control *control, struct brv_error *error)
{
    sensitivity->deepest = fmin(DEEPEST, brv_skin_thickness(&ask->skin[which]));
    brv_status status = BRV_OK;
    for (size_t k = 0; k < 2 && !status; k++) status = sense(sensitivity, k, own, tissue, ask, which, control, error);
    sensitivity->solved = !status;
    return status;
}

brv_status brv_light_sense(struct brv_light *light, const struct brv_scenario *ask, size_t which,
                           const struct brv_control *control, struct brv_error *error)
{
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, ask, which);
    light->sensitivity = (struct brv_sensitivity){.solved = false};
    if (light->method != BRV_METHOD_SAMPLED)
        return sense_both(&light->sensitivity, light, &tissue, ask, which, control, error);

    struct brv_light own;
    const struct brv_scenario copy = as_dark(ask, which, 1.0);
    brv_status status = brv_light_solve(&own, &tissue, &copy.beam, control, error);
    if (status) return status;
    status = sense_both(&light->sensitivity, &own, &tissue, ask, which, control, error);
    brv_light_free(&own);
    return status;
}

double brv_light_answer(const struct brv_light *light, size_t k, double depth)
{
    const struct brv_sensitivity *sensitivity = &light->sensitivity;
    if (!sensitivity->solved) return 1.0;
    const double place = fmin(sqrt(fmax(depth, 0.0) / sensitivity->deepest), 1.0) * (BRV_N_ANSWER - 1);
    const size_t i = place < BRV_N_ANSWER - 2 ? (size_t)place : BRV_N_ANSWER - 2;
    const double part = place - (double)i;
    return (1.0 - part) * sensitivity->at[k][i] + part * sensitivity->at[k][i + 1];
}
