#include "effect/effect.h"

#include "base/array.h"
#include "base/constants.h"
#include "effect/confinement.h"

#include <math.h>

/* Temperature of a probe without the pulses, at the time of the row nearest before. */
static double without_pulses(const struct brv_history *history, size_t probe, double time)
{
    if (!history->cooled) return history->start[probe];
    const size_t row = brv_array_interval(history->time, history->n_time - 1, time);
    const double *cooled = history->cooled + probe * history->n_time;
    const double span = history->time[row + 1] - history->time[row];
    const double share = span > 0.0 ? fmin(fmax((time - history->time[row]) / span, 0.0), 1.0) : 0.0;
    return history->start[probe] + cooled[row] + share * (cooled[row + 1] - cooled[row]);
}

static void judge_peaks(struct brv_effect *effect, const struct brv_history *history)
{
    for (size_t probe = 0; probe < history->n_probe; probe++) {
        const struct brv_summit own = brv_history_summit(history, probe, 1.0);
        effect->peak[probe] = (struct brv_spread){own.value, brv_history_summit(history, probe, BRV_DARKNESS_LOW).value,
                                                  brv_history_summit(history, probe, BRV_DARKNESS_HIGH).value};
        effect->peak_time[probe] = own.time;
        effect->peak_start[probe] = without_pulses(history, probe, own.time);
    }
}

static void judge_cold(struct brv_effect *effect, const struct brv_history *history)
{
    effect->coldest = INFINITY;
    for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++)
        for (size_t i = 0; i < history->n_time; i++) {
            const double cooled = history->cooled ? history->cooled[probe * history->n_time + i] : 0.0;
            effect->coldest = fmin(effect->coldest, history->start[probe] + cooled);
        }
}

/* Darker grains need less: the spread of the threshold runs against that of the rise. */
static void judge_thresholds(struct brv_effect *effect, const struct brv_scenario *ask)
{
    const struct brv_spread *mean = &effect->peak[BRV_PROBE_MEAN];
    const double fluence = ask->beam.fluence, start = effect->peak_start[BRV_PROBE_MEAN];
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        const double criterion = brv_criteria[i].temperature;
        effect->threshold[i] = (struct brv_spread){brv_threshold_fluence(fluence, criterion, start, mean->value),
                                                   brv_threshold_fluence(fluence, criterion, start, mean->high),
                                                   brv_threshold_fluence(fluence, criterion, start, mean->low)};
    }
}

/* Does the grain or any cell of the layers pass the first criterion? */
static bool passes_criterion(const struct brv_effect *effect, const struct brv_history *history)
{
    double most = 0.0, warmest = 0.0;
    for (size_t i = 0; i < history->n_cell; i++) most = fmax(most, history->peak[i]);
    for (size_t probe = 0; probe < history->n_probe; probe++) warmest = fmax(warmest, history->start[probe]);
    return fmax(warmest + most, effect->peak_start[BRV_PROBE_MEAN] + effect->peak[BRV_PROBE_MEAN].value) >
           brv_criteria[0].temperature;
}

/* The first pulse's row at a time after its start. */
static size_t at_time(const struct brv_history *history, double since)
{
    size_t i = 0;
    while (i + 1 < history->n_time && (history->pulse[i] < 1 || history->since[i] < since * (1.0 - 1e-5))) i++;
    return i;
}

static void judge_falls(struct brv_effect *effect, const struct brv_history *history, double end)
{
    const size_t from = at_time(history, end);
    for (size_t probe = 0; probe < 3; probe++) {
        const double *excess = history->excess + probe * history->n_time;
        const double start = history->since[from];
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
                                  .sideways = history->field.n_depth ? (double)INFINITY
                                                                     : leaves_sideways(tissue, ask->beam.spot)};
    judge_peaks(effect, history);
    judge_cold(effect, history);
    judge_thresholds(effect, ask);
    effect->above = passes_criterion(effect, history);
    judge_falls(effect, history, brv_pulse_end(&ask->pulse));
    return brv_heat_relax(&effect->cooling, tissue, error);
}
