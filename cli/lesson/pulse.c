/* Lessons on how long a pulse lasts. */
#include "lesson/lessons.h"

#include "lesson/drawing.h"
#include "lesson/phrase.h"

static void teach_why_nanoseconds(struct brv_page *page, const struct brv_compared *compared)
{
    enum { SHORT, MIDDLE, LONG };
    const struct brv_effect *effect = &compared->comparison->result[SHORT].site[BRV_LESION].effect;
    char one[BRV_TERM_SIZE], two[BRV_TERM_SIZE], three[BRV_TERM_SIZE], time[BRV_NUMBER_SIZE], times[BRV_NUMBER_SIZE];
    const double grain = brv_phrase_value(compared, SHORT, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK);
    const double slow_grain = brv_phrase_value(compared, LONG, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK);
    const double layer = brv_phrase_value(compared, SHORT, BRV_LESION, BRV_HEADLINE_LAYER_PEAK);
    const double slow_layer = brv_phrase_value(compared, LONG, BRV_LESION, BRV_HEADLINE_LAYER_PEAK);

    brv_page_answer(
        page,
        "A nanosecond pulse is over before the grain has cooled, so the heat is still where the pigment is: the "
        "grain gets %s the rise of the long pulse, its layer %s.",
        brv_phrase_times(times, grain, slow_grain), brv_phrase_times(time, layer, slow_layer));
    brv_page_step(
        page,
        "A grain of 0.5 um heated at once has its mean down to 1/e after %s. At the end of 7 ns it still holds "
        "%.0f %% of its heat.",
        brv_number_unit(time, effect->cooling.mean_efold, BRV_TIME), 100.0 * effect->held);
    brv_page_step(page, "highest rise of a grain: %s in 7 ns, %s in 300 ns, %s in 1 ms.",
                  brv_phrase_headline(one, compared, SHORT, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                  brv_phrase_headline(two, compared, MIDDLE, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                  brv_phrase_headline(three, compared, LONG, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_page_step(page, "highest rise of its layer: %s in 7 ns, %s in 1 ms. ",
                  brv_phrase_headline(one, compared, SHORT, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
                  brv_phrase_headline(two, compared, LONG, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_drawing_choices(page, compared, BRV_HEADLINE_GRAIN_PEAK, true, "x");
}

const struct brv_lesson brv_lesson_why_nanoseconds = {
    .name = "why_nanoseconds",
    .group = "HOW LONG THE PULSE LASTS",
    .question = "Why nanoseconds, when a millisecond brings the same light?",
    .scenario = "lesson/why_nanoseconds.yaml",
    .story =
        "A sun spot gets the same fluence three times: in 7 ns, in 300 ns, in 1 ms. A pigment grain is 0.5 um wide.",
    .guess = {"the grain gets as hot in all three: light is light",
              "the grain gets hottest in 1 ms: more time to heat up",
              "the grain gets hottest in 7 ns; the layer around it hardly cares", NULL},
    .ask = {"How long does a grain of 0.5 um keep its heat: nanoseconds, microseconds, milliseconds?",
            "Where is the heat at the end of the long pulse?",
            "Which pulse would you take to heat a hair root, and why not the same one?", NULL},
    .left_out =
        "Boiling: above 112 C a figure of the grain is energy over heat capacity. Whether a sign is seen, and what the "
        "skin does afterwards.",
    .source = "",
    .next = "How short is short enough? brevis lesson shorter_not_always",
    .teach = teach_why_nanoseconds,
};
