/* Lessons on the margin: a tan, and fluences below a sign. */
#include "lesson/lessons.h"

#include "base/constants.h"
#include "lesson/drawing.h"
#include "lesson/phrase.h"
#include "report/published.h"

#include <math.h>

static const char group[] = "THE MARGIN";

/* Published threshold of whitening at 694 nm in people: of lentigines, or of skin that sees no sun [J/m2]. */
static double published_sign(enum brv_site_index site)
{
    for (size_t i = 0; i < brv_n_published; i++)
        if (brv_published[i].sign_of == (int)site && brv_published_is_at(i, 694e-9)) return brv_published[i].low;
    return NAN;
}

/* ---- a tan ---- */

/* Does the ratio go the same way at both ends of its brackets as by its value? */
static bool sure_ratio(const struct brv_spread *before, const struct brv_spread *after)
{
    const bool less = after->value < before->value;
    return (after->low < before->low) == less && (after->high < before->high) == less;
}

static void teach_tan(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const size_t last = compared->comparison->n - 1;
    const double grain[2] = {brv_phrase_value(compared, 0, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK),
                             brv_phrase_value(compared, last, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK)};
    const double lesion = published_sign(BRV_LESION), around = published_sign(BRV_NEIGHBOUR);
    const struct brv_spread *ratio[2] = {&compared->comparison->headline[0].at[BRV_NEIGHBOUR][BRV_HEADLINE_RATIO],
                                         &compared->comparison->headline[last].at[BRV_NEIGHBOUR][BRV_HEADLINE_RATIO]};
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], from[BRV_TERM_SIZE], to[BRV_TERM_SIZE];

    brv_exercise_answer(exercise,
                        "Surely the heat: the layer of the skin around gets %s as much. The ratio of the two "
                        "thresholds goes from %s to %s: by its value a tan %s, %s.",
                        brv_phrase_ratio(one, compared, last, 0, BRV_NEIGHBOUR, BRV_HEADLINE_LAYER_PEAK),
                        brv_phrase_headline(from, compared, 0, BRV_NEIGHBOUR, BRV_HEADLINE_RATIO),
                        brv_phrase_headline(to, compared, last, BRV_NEIGHBOUR, BRV_HEADLINE_RATIO),
                        brv_phrase_order(ratio[1]->value, ratio[0]->value, "lowers it", "leaves it", "raises it"),
                        sure_ratio(ratio[0], ratio[1])
                            ? "and at both ends of its brackets too"
                            : "but at one end of its brackets it does the reverse, so the model does not know");
    brv_exercise_step(exercise, "Threshold ratio, sign around over sign of the lesion: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_RATIO));
    brv_exercise_step(exercise, "Threshold of a sign in the skin around: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_SIGN));
    brv_exercise_step(exercise, "Highest rise of its layer: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise,
                      "One grain there gets %s: %s without a tan, %s with the darkest. More pigment shades more.",
                      brv_phrase_order(grain[1], grain[0], "less", "as much", "more"),
                      brv_phrase_headline(from, compared, 0, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK),
                      brv_phrase_headline(to, compared, last, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(
        exercise,
        "In people, 694 nm: whitening at %.2g J/cm2 in lentigines, %.2g in skin without sun, a ratio of %.3g "
        "[hruza-1991, abstract]. A tan that halved the latter would leave %.3g. The model's ratio is %s "
        "than people's. That a tan narrows the margin, as the caution says, this ratio neither shows nor refutes.",
        1e-4 * lesion, 1e-4 * around, around / lesion, 0.5 * around / lesion,
        brv_phrase_order(brv_phrase_value(compared, 0, BRV_NEIGHBOUR, BRV_HEADLINE_RATIO), around / lesion, "smaller",
                         "no other", "larger"));
    brv_drawing_choices(
        exercise, compared, BRV_HEADLINE_RATIO, false,
        "Threshold ratio: below 1 the skin around shows first. Bars: grains 0.316 to 3.16 times as dark.");
}

const struct brv_lesson brv_lesson_tan = {
    .name = "tan",
    .group = group,
    .question = "The skin around is tanned. What changes, and how surely?",
    .scenario = "lesson/tan.yaml",
    .story = "694 nm on one lesion. The skin around it has less pigment, half as much again, twice as much, at last as "
             "much as the "
             "lesion.",
    .guess = {"heat of the skin around and threshold ratio, both surely",
              "the heat surely; of the ratio the model cannot even tell the way",
              "the ratio surely; the heat hardly: the tan shades itself", NULL},
    .ask = {"How many times the heat does the layer of the skin around get under the darkest tan?",
            "Two thresholds make a ratio. How well is each known?",
            "More pigment takes up more light, and shades what lies below. Which wins for one grain?",
            "1.4 J/cm2 whitened lentigines, 3.1 skin without sun. What is the ratio? And if a tan halves the second?",
            NULL},
    .left_out = "Who darkens afterwards: biology is not modelled. A tan also changes what cells do, not only how much "
                "light they take.",
    .source =
        "Whitening in people [hruza-1991, abstract]; that a tan halves the threshold is an assumption, no source.",
    .next = "Do the same at 1064 nm (light.wavelength): is the ratio higher, and does the tan lower it as much?",
    .teach = teach_tan,
};

/* ---- lower is not gentler ---- */

static void teach_lower(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const struct brv_spread *sign = &compared->comparison->headline[0].at[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN];
    enum { WHOLE, THIRD, TENTH };
    const struct brv_comparison *comparison = compared->comparison;
    const struct brv_spread *share[2] = {&comparison->headline[WHOLE].at[BRV_LESION][BRV_HEADLINE_SHARE],
                                         &comparison->headline[TENTH].at[BRV_LESION][BRV_HEADLINE_SHARE]};
    const double fluence = comparison->result[TENTH].ask.beam.fluence / comparison->result[WHOLE].ask.beam.fluence;
    const bool apart = fmax(share[1]->high / share[0]->high, share[1]->value / share[0]->value) < 0.9 * fluence;
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE];

    brv_exercise_answer(
        exercise,
        "%s: %.2g times the fluence gives the layer %s the rise, and disrupts %s as many grains. More the model does "
        "not know. Below the fluence that whitens, people's skin was DARKER after a week [hruza-1991, abstract]: less "
        "effect "
        "is not less harm.",
        apart ? "The heat is, the grains are fewer" : "The heat is, and the grains may be", fluence,
        brv_phrase_ratio(one, compared, TENTH, WHOLE, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
        brv_phrase_ratio_of(two, share[1], share[0]));
    brv_exercise_step(exercise, "Grains disrupted in the lesion: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_SHARE));
    brv_exercise_step(exercise, "Its layer warms at every fluence, in step with it: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(
        exercise,
        "The model's threshold of a sign: %s. In people lentigines whitened at %.2g J/cm2 [hruza-1991, abstract], %.2g "
        "times that: such a threshold finds no setting.",
        brv_phrase_headline(one, compared, 0, BRV_LESION, BRV_HEADLINE_THRESHOLD_SIGN),
        1e-4 * published_sign(BRV_LESION), published_sign(BRV_LESION) / sign->value);
    brv_exercise_step(
        exercise,
        "Within %.2g to %.2g J/cm2 the model cannot tell whether there is a sign: how much disrupted pigment "
        "the eye sees "
        "has no source, and grains differ.",
        1e-4 * sign->low, 1e-4 * sign->high);
    brv_exercise_step(
        exercise,
        "Nor is more better: very obvious whitening cleared no better than slight, and 23 to 33 %% darkened "
        "against 7 to 8 %% [negishi-2013, abstract]. 14 people came with mottled loss of pigment after 6 to 50 "
        "low visits, chosen because of it: no frequency follows [chan-2010, abstract].");
    brv_exercise_step(
        exercise, "No figure here is a figure of darkening. The model has no cell that lives, hurts or makes pigment.");
    brv_drawing_choices(exercise, compared, BRV_HEADLINE_SHARE, false,
                        "Grains disrupted, by fluence. Says nothing of darkening afterwards.");
}

const struct brv_lesson brv_lesson_how_low = {
    .name = "how_low",
    .group = group,
    .question = "With a tenth of the fluence, is everything a tenth?",
    .scenario = "lesson/how_low.yaml",
    .story =
        "694 nm at a fluence that whitened lentigines in a published trial, and at a third, a tenth, a fiftieth of it.",
    .guess = {"yes: a tenth of the heat, and a tenth of the grains disrupted",
              "a tenth of the heat, and another share of the grains", "the same heat, and a tenth of the grains", NULL},
    .ask = {"What does the model count, and what would you want to know that it does not?",
            "Is there a fluence at which nothing is disrupted? By how much does the skin warm there?",
            "Lentigines whitened at 1.4 J/cm2 in a trial. How far is the model's threshold from that?",
            "Between which fluences can the model not tell whether there is a sign?", NULL},
    .left_out = "Darkening, inflammation, healing: none of it is in the model, so none of it can be predicted.",
    .source = "[hruza-1991, abstract]; [negishi-2013, abstract]; [chan-2010, abstract].",
    .next = "Look at the same in numbers of test spots: brevis ladder scenarios/test_spots_694nm.yaml",
    .teach = teach_lower,
};
