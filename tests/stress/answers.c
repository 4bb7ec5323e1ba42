#include "stress/hold.h"

#include <math.h>

double stress_warmest(const struct brv_history *history)
{
    double most = history->adiabatic;
    for (size_t i = 0; i < history->n_cell; i++) most = fmax(most, history->peak[i]);
    for (size_t i = 0; i < history->n_probe * history->n_time; i++) most = fmax(most, history->rise[i]);
    return most;
}

/* By how much a value lies below 0; what is no number stays none, and breaks any bound. */
static double below_zero(double value)
{
    return isfinite(value) ? fmax(0.0, -value) : value;
}

/* ---- light ---- */

/* By so much a share may lie below 0 or above 1: what layered.h claims for what comes back and goes through, and elsewhere
 * the rounding of a hundred sums.                                                                                    */
#define CLAIMED 2e-5
#define ROUNDED 1e-12

static void check_share(struct stress_finding *finding, const char *what, double share, double slack)
{
    stress_hold(finding, what, isfinite(share) ? fmax(below_zero(share), share - 1.0) : share, slack);
}

static void check_light(struct stress_finding *finding, const struct brv_light *light,
                        const struct brv_history *history)
{
    const struct brv_layered *whole = &light->layered;
    double sum = whole->reflected_specular + whole->reflected_diffuse + whole->transmitted;
    check_share(finding, "share mirrored", whole->reflected_specular, ROUNDED);
    check_share(finding, "share reflected", whole->reflected_diffuse, CLAIMED);
    check_share(finding, "share transmitted", whole->transmitted, CLAIMED);
    for (size_t i = 0; i < whole->n_medium; i++) {
        check_share(finding, "share absorbed", whole->absorbed[i], ROUNDED);
        sum += whole->absorbed[i];
    }
    stress_hold(finding, "budget of light", sum - 1.0, 1e-8); /* what the model promises */
    for (size_t i = 0; i < light->n_layer; i++) { /* below 1e-12 rounding of the modes may show either sign */
        const double mean = light->mean_fluence[i];
        stress_hold(finding, "mean fluence not negative", below_zero(mean), 1e-12);
    }
    for (size_t i = 0; i <= history->n_cell; i++) {
        const double fluence = brv_light_fluence(light, history->face[i]);
        stress_hold(finding, "fluence not negative", below_zero(fluence), 1e-12);
    }
}

/* ---- heat ---- */

static void check_audit(struct stress_finding *finding, const struct brv_audit *audit)
{
    stress_hold(finding, "energy audit of the layers", audit->layers, BRV_AUDIT_TOLERANCE);
    stress_hold(finding, "energy audit of the pulses", audit->pulses, BRV_AUDIT_TOLERANCE);
    stress_hold(finding, "energy audit of the disc", audit->beside, BRV_AUDIT_TOLERANCE);
    stress_hold(finding, "energy audit of the grain", audit->grain, BRV_AUDIT_TOLERANCE);
    stress_hold(finding, "energy of grains against their layer", audit->join, BRV_AUDIT_TOLERANCE);
}

/* How far the grain ever departs below its layer [K], as the sphere has it and not the curve that is judged. */
static double colder(const struct brv_history *history, size_t probe)
{
    double most = 0.0;
    for (size_t i = 0; i < history->n_time; i++) most = fmax(most, -history->excess[probe * history->n_time + i]);
    return most;
}

/* Steps leave errors of 1e-6 of the warmest; where heat goes sideways, coarse cells far from the light leave 5e-3
 * (property/test_sideways.c: 1.8e-3 was the worst of a thousand gentler ones). The grain is its layer, which cools to
 * its neighbours, and a departure in a closed cell, which does not: their sum may miss by 1e-3 (test_property.c), and by
 * the whole departure where a pale grain takes up less than what is around it. `noise`: a walk of photons knows the light to
 * its standard error, and what leaves sideways is the difference of two such lights.                                  */
static void check_rises(struct stress_finding *finding, const struct brv_history *history, double noise)
{
    const double most = stress_warmest(history);
    const bool beside = history->field.n_depth > 0;
    for (size_t probe = 0; probe < history->n_probe; probe++) {
        const double steps = (beside || probe < BRV_PROBE_LAYER ? 5e-3 : 1e-6) * most;
        const double bound = steps + noise * most + (probe < BRV_PROBE_LAYER ? colder(history, probe) : 0.0);
        const double *rise = brv_history_rise(history, probe), *pigment = brv_history_pigment(history, probe);
        for (size_t i = 0; i < history->n_time; i++) {
            stress_hold(finding, probe < BRV_PROBE_LAYER ? "rise of the grain" : "rise of a layer or depth",
                        below_zero(rise[i]), fmax(bound, 1e-300));
            stress_hold(finding, "pigment's part of a rise", below_zero(pigment[i]), fmax(bound, 1e-300));
        }
    }
    for (size_t i = 0; i < history->n_cell; i++)
        stress_hold_true(finding, "finite and not negative: what a cell absorbs",
                         isfinite(history->absorbed[i]) && history->absorbed[i] >= 0.0 && isfinite(history->peak[i]));
    for (size_t i = 0; i < 3 * history->n_time; i++)
        stress_hold_true(finding, "finite: excess of the grain", isfinite(history->excess[i]));
    for (size_t i = 0; history->cooled && i < history->n_probe * history->n_time; i++)
        stress_hold_true(finding, "finite: what cools", isfinite(history->cooled[i]));
    for (size_t i = 0; i < 2 * history->field.n_depth * history->field.n_radius; i++) {
        const size_t n = history->field.n_depth * history->field.n_radius;
        if (isnan(history->field.time[i / n])) continue;
        stress_hold_true(finding, "finite: heat beside the axis", isfinite(history->field.rise[i / n][i % n]));
    }
}

/* Heat got what light gave, of the endless beam: two ways through the modes, and they agree to 1e-8 of all light. */
static void check_given(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site)
{
    const struct brv_layered *light = &site->light.layered;
    const double fluence = brv_beam_axis_fluence(&ask->beam) * (double)site->history.n_pulse;
    double absorbed = 0.0;
    if (ask->beam.method != BRV_METHOD_LAYERED) return;
    for (size_t i = 0; i < light->n_medium; i++) absorbed += light->absorbed[i];
    stress_hold(finding, "heat got all that light gave", site->audit.skin.absorbed / fluence - absorbed, 1e-8);
}

/* ---- what is read off ---- */

static void check_spread(struct stress_finding *finding, const char *what, const struct brv_spread *spread)
{
    stress_hold_true(finding, what, isfinite(spread->value) && isfinite(spread->low) && isfinite(spread->high));
}

/* NaN says that there is no threshold. 1e-3: tops are read off parabolas, each through its own points. */
static void check_threshold(struct stress_finding *finding, const struct brv_spread *threshold)
{
    if (isnan(threshold->value)) return;
    stress_hold_true(finding, "a threshold is above 0", threshold->value > 0.0);
    stress_hold_true(finding, "darker grains need less",
                     !(threshold->low > 1.001 * threshold->value) && !(threshold->value > 1.001 * threshold->high));
}

static void check_crowd(struct stress_finding *finding, const struct brv_crowd_effect *crowd)
{
    double before = 0.0;
    for (size_t i = 0; i < BRV_N_FLUENCE; i++) {
        const struct brv_disrupted *here = &crowd->curve[i];
        stress_hold_true(finding, "shares of grains are shares and grow",
                         here->share.number >= before - 1e-12 && here->share.number <= 1.0 + 1e-12 &&
                             here->share.volume >= -1e-12 && here->share.volume <= 1.0 + 1e-12);
        before = here->share.number;
    }
    stress_hold_true(finding, "column of pigment", isfinite(crowd->column) && crowd->column >= 0.0);
}

static void check_effect(struct stress_finding *finding, const struct brv_site *site)
{
    const struct brv_effect *effect = &site->effect;
    for (size_t probe = 0; probe < site->history.n_probe; probe++) {
        check_spread(finding, "finite: highest rise", &effect->peak[probe]);
        check_spread(finding, "finite: highest temperature", &effect->hottest[probe]);
        stress_hold_true(finding, "no absolute temperature below 0", effect->hottest[probe].value > 0.0);
        if (probe >= BRV_PROBE_LAYER) /* none is minus infinity; as much as one likes is not a number that is told */
            stress_hold_true(finding, "damage is a number",
                             !isnan(effect->log_damage[probe].value) && effect->log_damage[probe].value < INFINITY);
    }
    check_threshold(finding, &effect->threshold_grain);
    for (size_t i = 0; i < BRV_N_CRITERION; i++) check_threshold(finding, &effect->threshold[i]);
    check_crowd(finding, &effect->crowd);
    stress_hold_true(finding, "heat held is a number or none",
                     !isinf(effect->held)); /* NaN: the grain takes up no more than its cell */
    stress_hold_true(finding, "finite: rise of a grain that kept all", isfinite(effect->adiabatic_rise));
    stress_hold_true(finding, "finite: pressure", isfinite(effect->pressure.value.value));
    stress_hold_true(finding, "finite: time of warmth", isfinite(effect->warm));
    if (effect->vessel.there) check_spread(finding, "finite: blood in the vessel", &effect->vessel.rise);
    if (effect->film.there) check_spread(finding, "finite: film", &effect->film.peak);
}

/* Largest standard error of a walk of photons, where a hundredth of the light is left; 0 for other methods. */
static double noise_of(const struct brv_light *light)
{
    double worst = 0.0;
    for (size_t i = 0; light->method == BRV_METHOD_SAMPLED && i < light->axis.n; i++)
        if (brv_light_fluence(light, light->axis.depth[i]) > 1e-2)
            worst = fmax(worst, light->axis.error[i] / light->axis.ratio[i]);
    return worst;
}

void stress_answer(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site)
{
    check_light(finding, &site->light, &site->history);
    check_audit(finding, &site->audit);
    check_given(finding, ask, site);
    check_rises(finding, &site->history, noise_of(&site->light));
    check_effect(finding, site);
}
