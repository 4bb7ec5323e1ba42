/* Lessons on heat that stays: trains of pulses, the dermis. */
#include "lesson/lessons.h"

#include "base/constants.h"
#include "lesson/curve.h"
#include "lesson/drawing.h"
#include "lesson/phrase.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char group[] = "HEAT THAT STAYS";

enum { MOST_PULSES = 200 };

/* ---- ten a second ---- */

/* Rise of a probe just before pulse number k + 1 of a choice's lesion, for grains as they are and 0.316 and 3.16 times as
 * dark [K]. */
static struct brv_spread rise_before(const struct brv_compared *compared, size_t choice, size_t probe, size_t k)
{
    const struct brv_site *site = &compared->comparison->result[choice].site[BRV_LESION];
    const struct brv_history *history = &site->history;
    const size_t row = history->before[k];
    const double rise = brv_history_rise(history, probe)[row];
    double end[2];
    for (size_t i = 0; i < 2; i++)
        end[i] =
            brv_history_scaled(history, probe, row, brv_effect_scaling(&site->tissue, &site->light, history, probe, i));
    return (struct brv_spread){rise, end[0], end[1]};
}

static size_t last_pulse(const struct brv_compared *compared, size_t choice)
{
    return compared->comparison->result[choice].site[BRV_LESION].history.n_pulse - 1;
}

/* Excess of the grain's mean over its cell just before the last pulse [K]. */
static double grain_before(const struct brv_compared *compared, size_t choice)
{
    const struct brv_history *history = &compared->comparison->result[choice].site[BRV_LESION].history;
    return history->excess[history->n_time + history->before[last_pulse(compared, choice)]];
}

/* Between two temperatures on a straight line the part of it that is above `limit` [1]. */
static double part_above(double one, double two, double limit)
{
    if (fmin(one, two) > limit) return 1.0;
    return fmax(one, two) > limit ? (fmax(one, two) - limit) / fabs(one - two) : 0.0;
}

/* How long a probe is above BRV_WARM, for grains as they are and 0.316 and 3.16 times as dark. The model tells the first;
 * its ends are wanted here alone [s].                                                                              */
static struct brv_spread time_warm(const struct brv_site *site, size_t probe)
{
    const struct brv_history *history = &site->history;
    double sum[3] = {0.0, 0.0, 0.0};
    for (size_t k = 0; k < 3; k++) {
        const struct brv_scaling scaling = k ? brv_effect_scaling(&site->tissue, &site->light, history, probe, k - 1)
                                             : (struct brv_scaling){1.0, 1.0, NULL};
        double before = history->start[probe];
        for (size_t i = 0; i < history->n_time; i++) {
            const double now = history->start[probe] + brv_history_scaled(history, probe, i, scaling) +
                               (history->cooled ? history->cooled[probe * history->n_time + i] : 0.0);
            if (i) sum[k] += (history->time[i] - history->time[i - 1]) * part_above(before, now, BRV_WARM);
            before = now;
        }
    }
    return (struct brv_spread){sum[0], fmin(sum[0], fmin(sum[1], sum[2])), fmax(sum[0], fmax(sum[1], sum[2]))};
}

/* The longest of the layer and all depths, each end by itself. */
static struct brv_spread longest_warm(const struct brv_site *site)
{
    struct brv_spread longest = {0.0, 0.0, 0.0};
    for (size_t probe = BRV_PROBE_LAYER; probe < site->history.n_probe; probe++) {
        if (probe == site->history.film) continue;
        const struct brv_spread here = time_warm(site, probe);
        longest = (struct brv_spread){fmax(longest.value, here.value), fmax(longest.low, here.low),
                                      fmax(longest.high, here.high)};
    }
    return longest;
}

/* "9.21 s (5.1 s to 20 s)" */
static const char *time_text(char out[BRV_TERM_SIZE], struct brv_spread time)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    brv_number_unit(value, time.value, BRV_TIME);
    brv_number_unit(low, time.low, BRV_TIME);
    brv_number_unit(high, time.high, BRV_TIME);
    if (strcmp(low, high))
        snprintf(out, BRV_TERM_SIZE, "%.16s (%.16s to %.16s)", value, low, high);
    else
        snprintf(out, BRV_TERM_SIZE, "%.16s", value);
    return out;
}

static struct brv_drawing_curve before_curve(double x[MOST_PULSES], double y[MOST_PULSES],
                                             const struct brv_compared *compared, size_t choice, size_t probe,
                                             const char *name)
{
    const size_t n = last_pulse(compared, choice) + 1;
    for (size_t k = 0; k < n; k++) {
        x[k] = (double)(k + 1);
        y[k] = rise_before(compared, choice, probe, k).value;
    }
    return (struct brv_drawing_curve){.name = name, .n = n, .x = x, .y = y};
}

static void draw_train(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { SLOW = 1, FAST };
    double x[4][MOST_PULSES], y[4][MOST_PULSES];
    char asked[BRV_ASKED_SIZE];
    const size_t deep = compared->comparison->result[FAST].site[BRV_LESION].history.mark[1];
    const struct brv_drawing drawing = {
        .x = {.column = "pulse", .label = "pulse number", .scale = 1.0, .to = 20.0},
        .y = {.column = "rise_before_K", .label = "rise just before it, lesion, K", .scale = 1.0},
        .n_curve = 4,
        .curve = {before_curve(x[0], y[0], compared, FAST, BRV_PROBE_LAYER, "layer, 10 a second"),
                  before_curve(x[1], y[1], compared, SLOW, BRV_PROBE_LAYER, "layer, 1 a second"),
                  before_curve(x[2], y[2], compared, FAST, deep, "1 mm, 10 a second"),
                  before_curve(x[3], y[3], compared, SLOW, deep, "1 mm, 1 a second")},
        .asked = brv_compared_asked(asked, compared),
        .caption = "What is still warm when the next pulse comes. The grain itself would lie on its layer's curve."};
    brv_drawing_add(exercise, &drawing);
}

static void teach_train(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { ONE, SLOW, FAST };
    const struct brv_site *one_site = &compared->comparison->result[ONE].site[BRV_LESION];
    const struct brv_effect *effect = &one_site->effect;
    const struct brv_result *fast = &compared->comparison->result[FAST];
    const double spot = fast->ask.beam.spot, gap = 1.0 / fast->ask.pulse.rate, excess = grain_before(compared, FAST);
    const struct brv_spread kept[3] = {rise_before(compared, FAST, BRV_PROBE_LAYER, 1),
                                       rise_before(compared, FAST, BRV_PROBE_LAYER, last_pulse(compared, FAST)),
                                       rise_before(compared, SLOW, BRV_PROBE_LAYER, last_pulse(compared, SLOW))};
    const struct brv_effect *train = &fast->site[BRV_LESION].effect;
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE], text[3][BRV_TERM_SIZE];

    brv_exercise_answer(
        exercise,
        "%s Its layer gets warm: %s are left there when the second of ten a second comes, %s when the twentieth does "
        "(at one a second %s). Whether that is cooking the model leaves open: damage, log10 Omega, %s%s; burns are "
        "published for -0.3 (1st), 0 (2nd), 4 (3rd degree).",
        fabs(excess) < 0.1 ? "Not the grain: it has cooled long before the next pulse."
                           : "Even the grain has not cooled when the next pulse comes.",
        brv_phrase_spread(text[0], &kept[0], 1.0, 0.0, "K"), brv_phrase_spread(text[1], &kept[1], 1.0, 0.0, "K"),
        brv_phrase_spread(text[2], &kept[2], 1.0, 0.0, "K"),
        brv_phrase_headline(one, compared, FAST, BRV_LESION, BRV_HEADLINE_DAMAGE),
        train->illustrative ? ", an illustration" : "");
    brv_exercise_step(
        exercise,
        "The grain's lead over its layer is down to 1/e after %s; %s lie between two pulses. By then it is %s K.",
        brv_number_unit(one, effect->cooling.mean_efold, BRV_TIME), brv_number_unit(two, gap, BRV_TIME),
        fabs(excess) < 0.001 ? "less than 0.001" : brv_number_short(text[0], fabs(excess)));
    brv_exercise_step(
        exercise,
        "A layer of 100 um needs about d2/4k, %.0f ms, and cools slowly from then on, as 1/sqrt(time); a spot of %.0f "
        "mm "
        "d2/16k, %.0f s. With ten times the pause the layer has, before the twentieth pulse, %s what it has at ten a "
        "second.",
        1e3 * 1e-8 / (4.0 * BRV_TRADE_DIFFUSIVITY), 1e3 * spot, spot * spot / (16.0 * BRV_TRADE_DIFFUSIVITY),
        brv_phrase_ratio_of(two, &kept[2], &kept[1]));
    brv_exercise_step(exercise, "Highest rise of its layer: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise, "Highest rise of a grain: %s. What is added is its layer's warmth.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(
        exercise,
        "Ten a second, hottest of its layer: %s; longest time above 45 C: %s, after one pulse %s. Omega in the skin "
        "around: %s.",
        brv_phrase_degrees(text[0], &train->hottest[BRV_PROBE_LAYER], train->ceiling),
        time_text(one, longest_warm(&fast->site[BRV_LESION])), time_text(two, longest_warm(one_site)),
        brv_phrase_headline(text[1], compared, FAST, BRV_NEIGHBOUR, BRV_HEADLINE_DAMAGE));
    draw_train(exercise, compared);
}

const struct brv_lesson brv_lesson_ten_a_second = {
    .name = "ten_a_second",
    .group = group,
    .question = "Do ten pulses a second cook the skin?",
    .scenario = "lesson/ten_a_second.yaml",
    .story = "One pulse; then twenty on one place, at one and at ten a second. Grain, layer and dermis are looked at "
             "before each pulse.",
    .guess = {"nothing: nanosecond pulses leave no heat", "the grain: it has no time to cool",
              "not the grain, but its layer a little and the spot as a whole", NULL},
    .ask = {"0.1 s lies between two pulses. What cools in it: a grain of 0.5 um, 100 um of skin, a 6 mm spot?",
            "Ten times the pause: is a tenth of the warmth left?", "Which pulse of a train is the hottest, and why?",
            "What would you watch on skin when pulses are piled on one place?", NULL},
    .left_out = "Harm by lasting warmth, more blood in warm skin, the hand that moves on.",
    .source = "k = 1.3e-7 m2/s [trade-diffusivity, memory]; d2/4k and d2/16k [relaxation-kappa, computed]; Omega "
              "[burn-standards, seen in research code], fitted to longer heat.",
    .next = "Move the hand: write 3 for 20 in a copy of the scenario. How much of the warmth goes?",
    .teach = teach_train,
};

/* ---- how warm the dermis gets ---- */

/* Highest rise of a probe's curve and its time from the first pulse. */
static double highest(const struct brv_history *history, size_t probe, double *time)
{
    const double *rise = brv_history_rise(history, probe);
    size_t best = 0;
    for (size_t i = 1; i < history->n_time; i++)
        if (rise[i] > rise[best]) best = i;
    *time = history->time[best];
    return rise[best];
}

static void draw_dermis(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const struct brv_history *history = &compared->comparison->result[0].site[BRV_LESION].history;
    char asked[BRV_ASKED_SIZE];
    const struct brv_drawing drawing = {
        .x = {.column = "time_s",
              .label = "time since the first pulse began",
              .scale = 1.0,
              .log = true,
              .seconds = true,
              .from = 1e-3,
              .to = 100.0},
        .y = {.column = "rise_K", .label = "rise in the lesion, K", .scale = 1.0},
        .n_curve = 4,
        .curve = {brv_curve_time(compared, 0, BRV_LESION, BRV_PROBE_LAYER, "layer, one pulse"),
                  brv_curve_time(compared, 0, BRV_LESION, history->mark[0], "0.3 mm, one pulse"),
                  brv_curve_time(compared, 1, BRV_LESION, history->mark[0], "0.3 mm, twenty"),
                  brv_curve_time(compared, 1, BRV_LESION, history->mark[1], "1 mm, twenty")},
        .asked = brv_compared_asked(asked, compared),
        .caption =
            "Rise against time. The dermis is warmed by its own light at once, and by the epidermis' heat later."};
    brv_drawing_add(exercise, &drawing);
}

static void teach_dermis(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { ONE, TRAIN };
    const struct brv_result *one = &compared->comparison->result[ONE], *train = &compared->comparison->result[TRAIN];
    const struct brv_history *history = &one->site[BRV_LESION].history, *later = &train->site[BRV_LESION].history;
    const struct brv_tissue *tissue = &one->site[BRV_LESION].tissue;
    const struct brv_layer *dermis = &tissue->layer[tissue->n_layer - 1];
    const size_t shallow = history->mark[0], deep = history->mark[1];
    char all[BRV_SHEET_LINE_SIZE], text[4][BRV_TERM_SIZE];
    double time[4];
    highest(history, shallow, &time[0]);
    highest(history, deep, &time[1]);
    highest(later, shallow, &time[2]);
    highest(later, deep, &time[3]);

    brv_exercise_answer(exercise,
                        "By one pulse hardly: %s at 0.3 mm, where the pigmented layer gets %s. By twenty in two "
                        "seconds the dermis gets "
                        "%s that, for it cannot cool in between.",
                        brv_phrase_headline(text[0], compared, ONE, BRV_LESION, BRV_HEADLINE_DERMIS_PEAK),
                        brv_phrase_headline(text[1], compared, ONE, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
                        brv_phrase_ratio(text[2], compared, TRAIN, ONE, BRV_LESION, BRV_HEADLINE_DERMIS_PEAK));
    brv_exercise_step(exercise, "Highest rise 0.3 mm below the surface: %s. It comes %s and %s after the first pulse.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_DERMIS_PEAK),
                      brv_number_unit(text[0], time[0], BRV_TIME), brv_number_unit(text[1], time[2], BRV_TIME));
    brv_exercise_step(exercise, "Highest rise at 1 mm: %s; after %s and %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_DEEP_PEAK),
                      brv_number_unit(text[0], time[1], BRV_TIME), brv_number_unit(text[1], time[3], BRV_TIME));
    brv_exercise_step(
        exercise,
        "Heat needs z2/4k to come down from the epidermis: %s for 0.3 mm, %s for 1 mm. What rises at once is by the "
        "light that the dermis takes up itself: %.0f %% of it in water, %.0f %% in blood, the rest in what the model "
        "knows least, its baseline.",
        brv_number_unit(text[0], 9e-8 / (4.0 * BRV_TRADE_DIFFUSIVITY), BRV_TIME),
        brv_number_unit(text[1], 1e-6 / (4.0 * BRV_TRADE_DIFFUSIVITY), BRV_TIME),
        100.0 * dermis->absorption_water / dermis->absorption, 100.0 * dermis->absorption_blood / dermis->absorption);
    brv_exercise_step(exercise, "Highest rise of its layer: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise, "Time above 45 C at 0.3 mm: %s after one pulse, %s after twenty.",
                      time_text(text[0], time_warm(&one->site[BRV_LESION], shallow)),
                      time_text(text[1], time_warm(&train->site[BRV_LESION], shallow)));
    draw_dermis(exercise, compared);
}

const struct brv_lesson brv_lesson_warm_dermis = {
    .name = "warm_dermis",
    .group = group,
    .question = "How warm does the dermis get, where and when?",
    .scenario = "lesson/warm_dermis.yaml",
    .story =
        "1064 nm through 6 mm: one pulse, and twenty in two seconds on one place. Read in the lesion, 0.3 and 1 mm "
        "below the surface of the skin.",
    .guess = {"the dermis gets as warm as the pigmented layer", "hardly by one pulse, but pulses add up",
              "hardly at all, whatever the number: nanoseconds are too short", NULL},
    .ask = {"Heat needs z2/4k to go a depth z. Work it out for 0.3 mm and 1 mm.",
            "What in the dermis takes up 1064 nm?", "When is it warmest at 1 mm: during the pulses, or later?",
            "Which of the two, depth or number of pulses, matters more here?", NULL},
    .left_out = "More blood in warm skin, which carries heat away; harm by lasting warmth; vessels one by one.",
    .source = "k = 1.3e-7 m2/s [trade-diffusivity, memory].",
    .next = "A spot of 3 mm instead of 6 (light.spot): what happens at 1 mm, and why?",
    .teach = teach_dermis,
};
