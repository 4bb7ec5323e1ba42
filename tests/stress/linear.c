/* Light and heat are linear. The light is solved once and only the heat again: that is where steps might differ. */
#include "stress/hold.h"

#include <math.h>

static bool heat(struct stress_finding *finding, struct brv_history *history, const struct brv_tissue *tissue,
                 const struct brv_light *light, const struct brv_scenario *ask)
{
    struct brv_audit audit;
    struct brv_error error = {.place = ""};
    const brv_status status = brv_heat_run(history, &audit, tissue, light, ask, &error);
    if (status) stress_hold(finding, error.place, error.found, error.most);
    return !status;
}

/* Twice the fluence, or half where twice is not allowed: a power of two, so that not even rounding differs and steps,
 * which follow the largest rise, are the same ones. 1e-12: a few roundings all the same. Not where the deposit is so
 * faint that what counts as nothing (BRV_HEAT_NOTHING) cuts it.                                                    */
static void check_factor(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site)
{
    const struct brv_history *one = &site->history;
    const double most = brv_keys[brv_key_find(BRV_SCOPE_LIGHT, "fluence")].most;
    const double factor = 2.0 * ask->beam.fluence <= most ? 2.0 : 0.5;
    struct brv_scenario again = *ask;
    struct brv_history other;
    again.beam.fluence *= factor;
    if (!heat(finding, &other, &site->tissue, &site->light, &again)) return;
    const double bound = 1e-12 * factor * fmax(stress_warmest(one), 1e-280);
    stress_hold_true(finding, "twice the light: the same rows", other.n_time == one->n_time);
    for (size_t i = 0; i < one->n_probe * one->n_time && other.n_time == one->n_time; i++)
        stress_hold(finding, "twice the light, twice the heat", other.rise[i] - factor * one->rise[i], bound);
    brv_history_free(&other);
}

/* Every curve keeps the part of its rise that is pigment's. Here all heat of the layers of one set counts as pigment's,
 * the sets being every second layer and the others: the parts of the two runs add up to the whole. */
static void share_out(struct brv_tissue *tissue, size_t set)
{
    for (size_t i = 0; i < tissue->n_layer; i++)
        tissue->layer[i].absorption_pigment = i % 2 == set ? tissue->layer[i].absorption : 0.0;
}

/* Each part takes steps of its own, with an error of 1e-6 of its warmest place each (BRV_STEP_TOLERANCE), some hundred of
 * them while a pulse lasts: 1e-4 of the warmest. Means of layers come last, and are other ones in the two runs. */
static void check_parts(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site)
{
    const struct brv_history *whole = &site->history;
    struct brv_history part[2];
    struct brv_tissue tissue = site->tissue;
    if (site->tissue.n_layer < 2) return;
    share_out(&tissue, 0);
    if (!heat(finding, &part[0], &tissue, &site->light, ask)) return;
    share_out(&tissue, 1);
    if (heat(finding, &part[1], &tissue, &site->light, ask)) {
        const double bound = 1e-4 * fmax(stress_warmest(whole), 1e-280);
        for (size_t probe = BRV_PROBE_LAYER; probe <= whole->quarter; probe++)
            for (size_t i = 0; i < whole->n_time; i++)
                stress_hold(finding, "heats of layers add up",
                            brv_history_pigment(&part[0], probe)[i] + brv_history_pigment(&part[1], probe)[i] -
                                brv_history_rise(whole, probe)[i],
                            bound);
        brv_history_free(&part[1]);
    }
    brv_history_free(&part[0]);
}

void stress_linear(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site)
{
    check_factor(finding, ask, site);
    check_parts(finding, ask, site);
}
