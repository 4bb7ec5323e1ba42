/* What must hold for any scenario, on random ones over the whole key table. BREVIS_SEED=n repeats or varies them; a
 * failure prints the scenario as a file. This program runs whole sites; test_kernels.c asks the parts alone.
 * Scenario i is solved once, at lesion or neighbour in turn, and every property looks at that answer.  */
#include "effect/threshold.h"
#include "run/site.h"
#include "support/check.h"
#include "support/random.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    N_CASE = 200,
    SPLIT_HEAT_EVERY = 8, /* a split layer's temperatures take another run each: a part of the scenarios */
    SPLIT_DEPTHS = 40
};

struct answer {
    struct random_case one;
    size_t which; /* enum brv_site_index */
    struct brv_site site;
    double warmest; /* highest rise of any layer cell or probe [K] */
};

static struct answer answers[N_CASE];

static void solve(struct brv_site *site, const struct random_case *one, const struct brv_scenario *ask, size_t which)
{
    struct brv_error error = {.place = ""};
    const brv_status status = brv_site_solve(site, ask, which, BRV_VALUES_ONLY, NULL, &error);
    random_case_hold(one, !status, error.place, error.found, error.most);
}

static double warmest(const struct brv_history *history)
{
    double most = 0.0;
    for (size_t i = 0; i < history->n_cell; i++) most = fmax(most, history->peak[i]);
    for (size_t i = 0; i < history->n_probe * history->n_time; i++) most = fmax(most, fabs(history->rise[i]));
    return most;
}

static void every_scenario_is_answered(void **state)
{
    (void)state;
    print_message("BREVIS_SEED=%lu, %d scenarios\n", random_seed(), N_CASE);
    for (size_t i = 0; i < N_CASE; i++) {
        struct answer *answer = &answers[i];
        answer->one = random_case_draw(i);
        answer->which = i % BRV_N_SITE;
        solve(&answer->site, &answer->one, &answer->one.ask, answer->which);
        answer->warmest = warmest(&answer->site.history);
    }
}

/* Calls a check for every answer. */
static void for_all(void (*check)(const struct answer *answer))
{
    for (size_t i = 0; i < N_CASE; i++) check(&answers[i]);
}

/* So deep that no light arrives the grain does not warm: what is seen there is the error of the contour, 1e-12 of the
 * warmest place, of either sign, and thresholds are not given.                                                     */
static bool grain_warms(const struct answer *answer)
{
    return isfinite(answer->site.effect.threshold[0].value);
}

static void grains_without_light_have_no_threshold(void **state)
{
    (void)state;
    size_t n = 0;
    for (size_t i = 0; i < N_CASE; i++) {
        const struct answer *answer = &answers[i];
        const double share = answer->site.effect.peak[BRV_PROBE_MEAN].value / answer->site.history.adiabatic;
        const bool surface = answer->one.ask.watch.place == BRV_PLACE_SURFACE; /* may stay below its layer throughout */
        if (!grain_warms(answer) && !surface)
            random_case_hold(&answer->one, share < 2e-11, "a grain that warms", share, 2e-11);
        n += grain_warms(answer);
    }
    assert_true(n > N_CASE / 2); /* or the checks of thresholds would ask nobody */
}

/* ---- light and heat add up ---- */

static void check_share(const struct answer *answer, const char *what, double share)
{
    /* 1e-12: a share of 0 or 1 may miss by the rounding of a hundred sums */
    random_case_hold(&answer->one, share >= -1e-12 && share <= 1.0 + 1e-12, what, share, 1.0);
}

static void check_budget(const struct answer *answer)
{
    const struct brv_layered *light = &answer->site.light.layered;
    double sum = light->reflected_specular + light->reflected_diffuse + light->transmitted;
    check_share(answer, "mirrored", light->reflected_specular);
    check_share(answer, "reflected", light->reflected_diffuse);
    check_share(answer, "transmitted", light->transmitted);
    for (size_t i = 0; i < light->n_medium; i++) {
        check_share(answer, "absorbed", light->absorbed[i]);
        sum += light->absorbed[i];
    }
    /* 1e-8 is what the model promises */
    random_case_hold(&answer->one, fabs(sum - 1.0) <= 1e-8, "budget of light", sum, 1e-8);
}

/* At every face of the heat cells. Below 1e-12 of the incident fluence the modes' rounding may show either sign and
 * some hundred free paths down the light underflows; above that it must be positive.                             */
static void check_fluence(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const bool endless = isinf(answer->site.tissue.layer[answer->site.tissue.n_layer - 1].thickness);
    for (size_t i = 0; i <= history->n_cell; i++) {
        const double fluence = brv_light_fluence(&answer->site.light, history->face[i]);
        random_case_hold(&answer->one, fluence > -1e-12, "fluence", fluence, 0.0);
        if (i == 0) random_case_hold(&answer->one, fluence > 0.0, "fluence at the surface", fluence, 0.0);
    }
    const double left = brv_light_fluence(&answer->site.light, history->face[history->n_cell]);
    /* Where the endless layer is cut. The model never reaches beyond a metre, and a clear layer shines on there; its
     * last cell then takes all the rest. 1e-5: ten times the bound of the model, as 25 % fewer depth might leave.  */
    const double reach = history->face[history->n_cell] - answer->site.light.top[answer->site.tissue.n_layer - 1];
    if (endless && reach < 1.0)
        random_case_hold(&answer->one, left < 1e-5, "fluence where the endless layer is cut", left, 1e-5);
}

static void check_audit(const struct answer *answer)
{
    const struct brv_audit *audit = &answer->site.audit;
    const struct brv_layered *light = &answer->site.light.layered;
    const double share[] = {audit->layers, audit->pulses, audit->beside, audit->grain, audit->join};
    static const char *const name[] = {"audit of the layers", "audit of the pulses", "audit of the disc",
                                       "audit of the grain", "grains against their layer"};
    for (size_t i = 0; i < 5; i++) /* 1e-10 is what the model promises */
        random_case_hold(&answer->one, fabs(share[i]) < 1e-10, name[i], share[i], 1e-10);

    double absorbed = 0.0;
    for (size_t i = 0; i < light->n_medium; i++) absorbed += light->absorbed[i];
    const double fluence = brv_beam_axis_fluence(&answer->one.ask.beam) * (double)answer->site.history.n_pulse;
    const double given = absorbed * fluence;
    /* net flux against mu_a times fluence: two ways through the modes that agree to 1e-8 of all light */
    random_case_hold(&answer->one, fabs(audit->skin.absorbed - given) <= 1e-8 * fluence, "heat got all that light gave",
                     audit->skin.absorbed, given);
}

static void light_adds_up(void **state)
{
    (void)state;
    for_all(check_budget);
}

static void fluence_is_positive(void **state)
{
    (void)state;
    for_all(check_fluence);
}

static void heat_adds_up(void **state)
{
    (void)state;
    for_all(check_audit);
}

/* ---- linear ---- */

/* Thresholds of signs do not know the fluence asked for, nor do shares at a fluence. 1e-6: halving ends at 1e-7 of the
 * logarithm. A layer no light arrives at is heated by the error of the contour: not asked.                          */
static void check_linear_crowd(const struct answer *answer, const struct brv_crowd_effect *other)
{
    const struct brv_crowd_effect *one = &answer->site.effect.crowd;
    const double sign = one->threshold_sign.value, again = other->threshold_sign.value;
    if (!grain_warms(answer) || !(sign < 1e7)) return;
    random_case_hold(&answer->one, fabs(again / sign - 1.0) <= 1e-6, "threshold of a sign unchanged", again, sign);
}

/* A power of two, so that not even rounding differs and steps, which follow the largest rise, are the same ones; with
 * another factor rounding may tip a step over its tolerance. 1e-12: a few roundings all the same.                 */
static void check_linear(const struct answer *answer)
{
    const double factor = answer->one.ask.beam.fluence > 1e6 ? 0.5 : 2.0;
    struct brv_scenario ask = answer->one.ask;
    struct brv_site other;
    ask.beam.fluence *= factor;
    solve(&other, &answer->one, &ask, answer->which);
    const struct brv_history *one = &answer->site.history;
    for (size_t i = 0; i < one->n_probe * one->n_time; i++) {
        const double gap = fabs(other.history.rise[i] - factor * one->rise[i]);
        random_case_hold(&answer->one, gap <= 1e-12 * factor * answer->warmest, "linear in fluence", gap,
                         1e-12 * factor * answer->warmest);
    }
    for (size_t i = 0; i < BRV_N_CRITERION && grain_warms(answer); i++) {
        const double before = answer->site.effect.threshold[i].value, after = other.effect.threshold[i].value;
        /* against the grain's own rise, which may be small beside the warmest place */
        const double loose = 1e-12 * answer->warmest / answer->site.effect.peak[BRV_PROBE_MEAN].value;
        random_case_hold(&answer->one, fabs(after / before - 1.0) <= loose + 1e-12, "threshold unchanged", after,
                         before);
    }
    check_linear_crowd(answer, &other.effect.crowd);
    brv_site_free(&other);
}

static void everything_is_linear_in_fluence(void **state)
{
    (void)state;
    for_all(check_linear);
}

/* ---- a split layer ---- */

static size_t grain_layer_of(const struct answer *answer)
{
    return answer->site.tissue.grain.layer;
}

/* The same skins with layer `split` of both cut in two at `depth` below its top. */
static struct brv_scenario with_split(const struct answer *answer, size_t split, double depth)
{
    struct brv_scenario ask = answer->one.ask;
    const size_t grain = grain_layer_of(answer);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        struct brv_skin *skin = &ask.skin[site];
        memmove(&skin->layer[split + 1], &skin->layer[split], (skin->n_layer - split) * sizeof *skin->layer);
        skin->n_layer++;
        skin->layer[split].thickness = depth;
        skin->layer[split + 1].thickness -= depth;
        skin->grain.layer = (int)(grain > split ? grain + 1 : grain);
    }
    return ask;
}

/* Modes, adding and interior run through one sheet more: rounding, by the spread of the decay constants 1e-9. */
static void check_same_light(const struct answer *answer, const struct brv_light *split)
{
    const struct brv_light *whole = &answer->site.light;
    const struct brv_history *history = &answer->site.history;
    const double bottom = history->face[history->n_cell];
    random_case_hold(&answer->one,
                     fabs(split->layered.reflected_diffuse - whole->layered.reflected_diffuse) <= 1e-9 &&
                         fabs(split->layered.transmitted - whole->layered.transmitted) <= 1e-9,
                     "split layer: reflectance and transmittance", split->layered.reflected_diffuse,
                     whole->layered.reflected_diffuse);
    for (size_t i = 0; i < SPLIT_DEPTHS; i++) {
        const double depth = bottom * pow(10.0, -6.0 * (double)i / SPLIT_DEPTHS) * (1.0 - 1e-9);
        const double before = brv_light_fluence(whole, depth), after = brv_light_fluence(split, depth);
        random_case_hold(&answer->one, fabs(after - before) <= 1e-9 * fmax(1.0, before), "split layer: fluence", after,
                         before);
    }
}

static double slowest_diffusivity(const struct brv_tissue *tissue)
{
    double least = INFINITY;
    for (size_t i = 0; i < tissue->n_layer; i++)
        least = fmin(least, tissue->layer[i].conductivity / tissue->layer[i].heat_capacity);
    return least;
}

/* Layer and watched depths; the grain follows its layer. Cells are laid afresh, finer at the new face and everywhere
 * when the pieces are thin: second order, cells widen by 6 % of the distance to a face, so a profile is off by about
 * (0.06 x distance / its own length)^2 / 12, some 3e-4, and as much again where light falls within few cells. Just
 * after a pulse heat passes faces in fronts thinner than the cells of 0.1 um there, and a depth close to a face reads
 * them coarsely: 2 % were seen with seeds 7 to 12. The top of an endless layer lies on such a face: not asked.       */
static void check_same_heat(const struct answer *answer, const struct brv_site *split)
{
    const struct brv_history *one = &answer->site.history, *two = &split->history;
    const struct brv_tissue *tissue = &answer->site.tissue;
    const double front = 4.0 * slowest_diffusivity(tissue), few_cells = 0.3e-6;
    const bool top_only = isinf(tissue->layer[tissue->grain.layer].thickness);
    const size_t depths = one->quarter + 1 + (one->mark[0] != BRV_NO_PROBE) + (one->mark[1] != BRV_NO_PROBE);
    for (size_t probe = BRV_PROBE_LAYER + top_only; probe < depths; probe++) /* then come means of whole layers */
        for (size_t i = 1; i < one->n_time; i++) {
            const double thin = fmin(1.0, few_cells * few_cells / (front * fmax(one->since[i], 1e-12)));
            const double gap = fabs(brv_history_rise(one, probe)[i] - brv_history_rise(two, probe)[i]);
            const double bound = (2e-3 + 0.03 * thin) * answer->warmest;
            random_case_hold(&answer->one, gap <= bound, "split layer: rise", gap, bound);
        }
}

/* A layer other than the grain's, where there is one, so that the grain's surroundings stay what they are. */
static void check_split(const struct answer *answer)
{
    const struct brv_skin *skin = &answer->one.ask.skin[answer->which];
    gsl_rng *random = random_stream(answer->one.seed + 1, answer->one.number);
    size_t split = gsl_rng_uniform_int(random, (unsigned long)skin->n_layer);
    if (split == grain_layer_of(answer)) split = (split + 1) % skin->n_layer;
    const double whole = fmin(skin->layer[split].thickness, 5e-3);
    const struct brv_scenario ask = with_split(answer, split, whole * random_even(random, 0.05, 0.95));
    gsl_rng_free(random);

    if (answer->one.number % SPLIT_HEAT_EVERY || split == grain_layer_of(answer)) {
        struct brv_tissue tissue;
        struct brv_light light;
        struct brv_error error = {.place = ""};
        brv_tissue_resolve(&tissue, &ask, answer->which);
        random_case_hold(&answer->one, !brv_light_solve(&light, &tissue, &ask.beam, NULL, &error), error.place,
                         error.found, error.most);
        check_same_light(answer, &light);
        brv_light_free(&light);
        return;
    }
    struct brv_site site;
    solve(&site, &answer->one, &ask, answer->which);
    check_same_light(answer, &site.light);
    check_same_heat(answer, &site);
    brv_site_free(&site);
}

static void split_layer_changes_nothing(void **state)
{
    (void)state;
    for_all(check_split);
}

/* ---- grain and layer ---- */

/* Time in which the slowest departure in a closed cell of like material falls by e^20 (first root of tan x = x:
 * 4.4934^2 = 20.19 per radius^2 / diffusivity), taken with the slower of the two diffusivities.                  */
static double cell_time(const struct brv_grain *grain)
{
    const double diffusivity =
        fmin(grain->conductivity / grain->heat_capacity, grain->host_conductivity / grain->host_heat_capacity);
    const double host = grain->host_conductivity / fmax(grain->host_heat_capacity, grain->heat_capacity);
    return grain->cell_radius * grain->cell_radius / fmin(diffusivity, host);
}

/* 2 cell times are e^-40: far below 1e-6. What is left is the error of steps. */
static void check_late_grain(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const double from = brv_pulse_window(&answer->one.ask.pulse) + 2.0 * cell_time(&answer->site.tissue.grain);
    double most = 0.0;
    for (size_t i = 0; i < history->n_time; i++)
        most = fmax(most, fabs(history->excess[BRV_PROBE_MEAN * history->n_time + i]));
    for (size_t i = 0; i < history->n_time; i++)
        for (size_t probe = 0; probe < BRV_PROBE_LAYER && history->since[i] > from; probe++) {
            const double gap =
                fabs(brv_history_rise(history, probe)[i] - brv_history_rise(history, BRV_PROBE_LAYER)[i]);
            /* of the warmest, or of the grain's own excess where that is more */
            const double bound = 1e-6 * fmax(answer->warmest, most);
            random_case_hold(&answer->one, gap <= bound, "late grain is its layer", gap, bound);
        }
}

/* Under any pulse the grain's centre stays below the steady state of its strongest moment in an unbounded medium,
 * q a^2 (1/(6 k1) + 1/(3 k2)); q is largest for a Gaussian, 0.9394 / width / erf(cut) < 0.94 / width. So a long pulse
 * leaves the grain at its layer. 1 %: the grid of a run. Only where the host does not warm more than the grain.  */
static void check_steady_bound(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const struct brv_grain *grain = &answer->site.tissue.grain;
    const double energy = grain->absorption * grain->shading * brv_beam_axis_fluence(&answer->one.ask.beam) *
                          answer->site.light.mean_fluence[grain->layer];
    const double steady = energy / answer->one.ask.pulse.width * grain->radius * grain->radius *
                          (1.0 / (6.0 * grain->conductivity) + 1.0 / (3.0 * grain->host_conductivity));
    /* in an unbounded medium, and in cells so large that a pulse begins before they are flat, those before add up */
    const double bound =
        1.01 * fmin(steady * (double)history->n_pulse, energy / grain->heat_capacity * (double)history->n_pulse);
    for (size_t i = 0; i < history->n_time; i++) {
        const double excess = history->excess[BRV_PROBE_CENTRE * history->n_time + i];
        random_case_hold(&answer->one, excess <= bound, "excess of a grain below its steady state", excess, bound);
    }
}

static void grain_becomes_its_layer(void **state)
{
    (void)state;
    for_all(check_late_grain);
}

static void grain_stays_below_its_steady_state(void **state)
{
    (void)state;
    for_all(check_steady_bound);
}

/* ---- nothing gets colder ---- */

/* Pulses delivered by a row, the last one in part. */
static double delivered(const struct brv_pulse *pulse, const struct brv_history *history, size_t row)
{
    if (history->pulse[row] == 0) return 0.0;
    return (double)(history->pulse[row] - 1) + brv_pulse_delivered(pulse, history->since[row]);
}

/* Layers and depths: steps leave errors of 1e-6 of the largest rise, some of them negative.
 * The sphere alone: its rise is the excess plus the mean of its cell, and that mean is energy over capacity.
 * A known limit: layer + excess may fall below zero, by 1e-3 of the warmest in thin or high layers: the layer cools to its
 * neighbours while the cell, which is closed, does not. That sum is therefore not asked.                          */
static void check_not_cold(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const struct brv_tissue *tissue = &answer->site.tissue;
    const struct brv_layer *layer = &tissue->layer[tissue->grain.layer];
    const bool closed = isfinite(tissue->grain.cell_radius);
    const double cell = closed
                            ? layer->absorption / layer->heat_capacity * brv_beam_axis_fluence(&answer->one.ask.beam) *
                                  answer->site.light.mean_fluence[tissue->grain.layer]
                            : 0.0;
    double hottest = 0.0;
    for (size_t i = 0; i < 3 * history->n_time; i++) hottest = fmax(hottest, fabs(history->excess[i]));
    for (size_t i = 0; i < history->n_time; i++) {
        const double mean = cell * delivered(&answer->one.ask.pulse, history, i);
        for (size_t probe = BRV_PROBE_LAYER; probe < history->n_probe; probe++)
            random_case_hold(&answer->one, brv_history_rise(history, probe)[i] >= -1e-6 * answer->warmest,
                             "rise of a layer or depth", brv_history_rise(history, probe)[i], -1e-6 * answer->warmest);
        for (size_t probe = 0; probe < BRV_PROBE_LAYER; probe++) {
            const double rise = history->excess[probe * history->n_time + i] + mean;
            random_case_hold(&answer->one, rise >= -1e-6 * fmax(hottest, cell), "rise of the grain in its cell", rise,
                             -1e-6 * fmax(hottest, cell));
        }
    }
}

static void nothing_gets_colder(void **state)
{
    (void)state;
    for_all(check_not_cold);
}

/* ---- grains that differ ---- */

/* Shares are shares, grow with the fluence, and are the same by number and by volume where all grains are as large. */
static void check_shares(const struct answer *answer)
{
    const struct brv_crowd_effect *crowd = &answer->site.effect.crowd;
    const bool alike = answer->site.tissue.grain.diameter_spread <= 0.0;
    double before = 0.0;
    for (size_t i = 0; i < BRV_N_FLUENCE; i++) {
        const struct brv_disrupted *here = &crowd->curve[i];
        const double number = here->share.number, volume = here->share.volume;
        random_case_hold(&answer->one, number >= before - 1e-12 && number <= 1.0 + 1e-12, "share grows", number,
                         before);
        random_case_hold(&answer->one, volume >= -1e-12 && volume <= 1.0 + 1e-12, "share by volume", volume, 1.0);
        random_case_hold(&answer->one, !alike || fabs(number - volume) <= 1e-12, "one size: one share", number, volume);
        random_case_hold(&answer->one, fabs(here->column - volume * crowd->column) <= 1e-12 * crowd->column,
                         "column is its share", here->column, volume * crowd->column);
        before = number;
    }
    const struct brv_spread *sign = &crowd->threshold_sign;
    const bool ordered = !(sign->low > sign->value) && !(sign->value > sign->high); /* NAN: none, and then none above */
    random_case_hold(&answer->one, ordered, "a larger column needs no less", sign->value, sign->low);
    random_case_hold(&answer->one, !isnan(sign->value) || isnan(sign->high), "no sign, no larger one", sign->high, 0.0);
}

static void grains_that_differ(void **state)
{
    (void)state;
    for_all(check_shares);
}

/* ---- darkness ---- */

/* More pigment at the same light is more heat everywhere, so its part of every curve is not negative. */
static void check_darker(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const struct brv_effect *effect = &answer->site.effect;
    for (size_t i = 0; i < history->n_time; i++)
        for (size_t probe = 0; probe < history->n_probe; probe++) {
            const double part = brv_history_pigment(history, probe)[i];
            if (probe == BRV_PROBE_SURFACE) continue; /* its water may be below the mean of the cell */
            random_case_hold(&answer->one, part >= -1e-6 * answer->warmest, "pigment's part", part,
                             -1e-6 * answer->warmest);
        }
    for (size_t i = 0; i < BRV_N_CRITERION && grain_warms(answer); i++) {
        const struct brv_spread *threshold = &effect->threshold[i];
        if (answer->one.ask.watch.place == BRV_PLACE_SURFACE) continue;
        /* 1e-3: tops are read off parabolas, each through its own three points */
        random_case_hold(&answer->one,
                         threshold->low <= 1.001 * threshold->value && threshold->value <= 1.001 * threshold->high,
                         "darker grains need less", threshold->low, threshold->high);
    }
}

/* With every pulse at the threshold the mean gets to the criterion and not beyond, at whatever row that is. 5e-3 of the
 * way: tops are read off parabolas between rows.                                                                   */
static void check_threshold_reaches(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const size_t place = (size_t)answer->one.ask.watch.place, first = place * history->n_time;
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        const double factor = answer->site.effect.threshold[i].value / answer->one.ask.beam.fluence;
        const double criterion = brv_criteria[i].temperature;
        double most = -INFINITY, way = 0.0;
        for (size_t row = history->before[0]; row < history->n_time; row++) {
            const double rest = history->start[place] + (history->cooled ? history->cooled[first + row] : 0.0);
            if (rest + factor * history->rise[first + row] <= most) continue;
            most = rest + factor * history->rise[first + row];
            way = criterion - rest;
        }
        random_case_hold(&answer->one, fabs(most - criterion) <= 0.015 * way, /* a top lies up to 1 % above its rows */
                         "at the threshold the place reaches the criterion", most, criterion);
    }
}

static void check_threshold_scale(const struct answer *answer)
{
    const struct brv_history *history = &answer->site.history;
    const struct brv_spread *threshold = answer->site.effect.threshold;
    const double start = history->start[BRV_PROBE_MEAN];
    if (!grain_warms(answer)) return;
    check_threshold_reaches(answer);
    for (size_t i = 1; i < BRV_N_CRITERION && !history->cooled; i++) {
        const double ratio = (brv_criteria[i].temperature - start) / (brv_criteria[0].temperature - start);
        /* a few roundings */
        random_case_hold(&answer->one, fabs(threshold[i].value / threshold[0].value - ratio) <= 1e-12 * ratio,
                         "thresholds scale as criterion - start", threshold[i].value / threshold[0].value, ratio);
    }
}

static void darker_grains_are_hotter(void **state)
{
    (void)state;
    for_all(check_darker);
}

static void thresholds_scale(void **state)
{
    (void)state;
    for_all(check_threshold_scale);
}

static int free_all(void **state)
{
    (void)state;
    for (size_t i = 0; i < N_CASE; i++) brv_site_free(&answers[i].site);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_scenario_is_answered), /* first: the others look at it */
                                       cmocka_unit_test(grains_without_light_have_no_threshold),
                                       cmocka_unit_test(light_adds_up),
                                       cmocka_unit_test(fluence_is_positive),
                                       cmocka_unit_test(heat_adds_up),
                                       cmocka_unit_test(grains_that_differ),
                                       cmocka_unit_test(everything_is_linear_in_fluence),
                                       cmocka_unit_test(split_layer_changes_nothing),
                                       cmocka_unit_test(grain_becomes_its_layer),
                                       cmocka_unit_test(grain_stays_below_its_steady_state),
                                       cmocka_unit_test(nothing_gets_colder),
                                       cmocka_unit_test(darker_grains_are_hotter),
                                       cmocka_unit_test(thresholds_scale)};
    return cmocka_run_group_tests(tests, NULL, free_all);
}
