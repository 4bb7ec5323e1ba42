#include "effect/effect.h"

#include "base/constants.h"
#include "effect/confinement.h"

#include <math.h>

static void judge_peaks(struct brv_effect *effect, const struct brv_history *history)
{
    for (size_t probe = 0; probe < history->n_probe; probe++) {
        const struct brv_summit own = brv_history_summit(history, probe, 1.0);
        effect->peak[probe] = (struct brv_spread){own.value, brv_history_summit(history, probe, BRV_DARKNESS_LOW).value,
                                                  brv_history_summit(history, probe, BRV_DARKNESS_HIGH).value};
        effect->peak_time[probe] = own.time;
    }
}

/* Darker grains need less: the spread of the threshold runs against that of the rise. */
static void judge_thresholds(struct brv_effect *effect, const struct brv_scenario *ask)
{
    const struct brv_spread *mean = &effect->peak[BRV_PROBE_MEAN];
    const double fluence = ask->beam.fluence, start = ask->surface.temperature;
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        const double criterion = brv_criteria[i].temperature;
        effect->threshold[i] = (struct brv_spread){brv_threshold_fluence(fluence, criterion, start, mean->value),
                                                   brv_threshold_fluence(fluence, criterion, start, mean->high),
                                                   brv_threshold_fluence(fluence, criterion, start, mean->low)};
    }
}

/* Does the grain or any cell of the layers pass the first criterion? */
static bool passes_criterion(const struct brv_effect *effect, const struct brv_history *history, double start)
{
    double most = effect->peak[BRV_PROBE_MEAN].value;
    for (size_t i = 0; i < history->n_cell; i++) most = fmax(most, history->peak[i]);
    return start + most > brv_criteria[0].temperature;
}

static size_t at_time(const struct brv_history *history, double time)
{
    size_t i = 0;
    while (i + 1 < history->n_time && history->time[i] < time * (1.0 - 1e-5)) i++;
    return i;
}

static void judge_falls(struct brv_effect *effect, const struct brv_history *history, double end)
{
    const size_t from = at_time(history, end);
    for (size_t probe = 0; probe < 3; probe++) {
        const double *excess = history->excess + probe * history->n_time;
        const double start = history->time[from];
        effect->fall_half[probe] = effect->fall_efold[probe] = (double)NAN;
        if (!(excess[from] > 0.0)) continue; /* in dense pigment the surface can be cooler than the mean of its cell */
        effect->fall_half[probe] = brv_history_fall(history, excess, start, 0.5 * excess[from]) - start;
        effect->fall_efold[probe] = brv_history_fall(history, excess, start, exp(-1.0) * excess[from]) - start;
    }
}

static double adiabatic_rise(const struct brv_tissue *tissue, const struct brv_light *light, double fluence)
{
    const struct brv_grain *grain = &tissue->grain;
    return grain->absorption * grain->shading * fluence * light->mean_fluence[grain->layer] / grain->heat_capacity;
}

static double leaves_sideways(const struct brv_tissue *tissue, double spot)
{
    const struct brv_layer *deepest = &tissue->layer[tissue->n_layer - 1];
    return spot * spot * deepest->heat_capacity / (16.0 * deepest->conductivity);
}

brv_status brv_effect_judge(struct brv_effect *effect, const struct brv_tissue *tissue, const struct brv_light *light,
                            const struct brv_history *history, const struct brv_audit *audit,
                            const struct brv_scenario *ask, struct brv_error *error)
{
    *effect = (struct brv_effect){.pulse = ask->pulse.width,
                                  .diameter = 2.0 * tissue->grain.radius,
                                  .held = audit->held,
                                  .stress_time = brv_confinement_time(2.0 * tissue->grain.radius, BRV_SOUND_SPEED),
                                  .adiabatic_rise = adiabatic_rise(tissue, light, brv_beam_axis_fluence(&ask->beam)),
                                  .sideways = leaves_sideways(tissue, ask->beam.spot)};
    judge_peaks(effect, history);
    judge_thresholds(effect, ask);
    effect->above = passes_criterion(effect, history, ask->surface.temperature);
    judge_falls(effect, history, brv_pulse_end(&ask->pulse));
    return brv_heat_relax(&effect->cooling, tissue, error);
}
