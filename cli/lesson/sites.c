/* Lessons on where the skin is and what lies on it. */
#include "lesson/lessons.h"

#include "lesson/drawing.h"
#include "lesson/phrase.h"

#include <math.h>

/* Thickness of the living dermis and of the epidermis of a choice [m]. */
static double thickness_of(const struct brv_compared *compared, size_t i, bool dermis)
{
    const struct brv_skin *skin = &compared->choices->choice[i].request.scenario.skin[BRV_NEIGHBOUR];
    double sum = 0.0;
    for (size_t k = 0; k < skin->n_layer; k++)
        if ((skin->layer[k].kind == BRV_DERMIS) == dermis && skin->layer[k].kind != BRV_FAT)
            sum += skin->layer[k].thickness;
    return sum;
}

static void teach_neck(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { NECK, CHEEK, EAR };
    const double neck = thickness_of(compared, NECK, true), cheek = thickness_of(compared, CHEEK, true);
    const double over = brv_phrase_value(compared, EAR, BRV_LESION, BRV_HEADLINE_LAYER_PEAK) /
                        brv_phrase_value(compared, CHEEK, BRV_LESION, BRV_HEADLINE_LAYER_PEAK);
    char all[BRV_SHEET_LINE_SIZE], text[3][BRV_NUMBER_SIZE], ear[BRV_TERM_SIZE], cheek_rise[BRV_TERM_SIZE];
    brv_exercise_answer(
        exercise,
        "%s: the dermis of the neck was measured as %s that of the cheek, %s against %s [ultrasound-2022, seen], and "
        "an "
        "epidermis %.2g times as thick, behind the ear, changes the warmth of the pigmented layer by %+.2g %% only: %s "
        "against %s. Caution has other reasons.",
        neck > 0.95 * cheek && fabs(over - 1.0) < 0.1 ? "Not by its thickness, as far as that was measured"
                                                      : "In part, by these numbers",
        brv_phrase_order(neck, cheek, "thinner than", "thick as", "thicker than"),
        brv_number_unit(text[0], neck, BRV_LENGTH), brv_number_unit(text[1], cheek, BRV_LENGTH),
        thickness_of(compared, EAR, false) / thickness_of(compared, CHEEK, false), 100.0 * (over - 1.0),
        brv_phrase_headline(ear, compared, EAR, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
        brv_phrase_headline(cheek_rise, compared, CHEEK, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise,
                      "Epidermis, layers as the model takes them: %s, %s, %s. Of neck and cheek no histology was seen "
                      "by us: they share one, so what is the same for both is the same input, no finding.",
                      brv_number_unit(text[0], thickness_of(compared, NECK, false), BRV_LENGTH),
                      brv_number_unit(text[1], thickness_of(compared, CHEEK, false), BRV_LENGTH),
                      brv_number_unit(text[2], thickness_of(compared, EAR, false), BRV_LENGTH));
    brv_exercise_step(exercise, "Highest rise of the lesion's layer: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise, "Highest rise at 0.3 mm, in the dermis: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_DERMIS_PEAK));
    brv_exercise_step(
        exercise, "'The epidermis is 100 um' is no number of skin but of a method: 30 to 63 um in paraffin on a face "
                  "[chopra-2015, abstract], while echoes of ultrasound count 170 to 220 um, entrance and all "
                  "[ultrasound-2022, seen]. Never mix them.");
    brv_exercise_step(
        exercise,
        "No difference here is no permission: fewer appendages from which skin heals, slower healing and vessels "
        "are not in the model.");
    brv_drawing_choices(exercise, compared, BRV_HEADLINE_LAYER_PEAK, false,
                        "Highest rise of the pigmented layer by site. Thickness only; healing is not in it.");
}

const struct brv_lesson brv_lesson_thin_neck = {
    .name = "thin_neck",
    .group = "WHERE THE LIGHT GOES",
    .question = "Is the neck delicate because its skin is thin?",
    .scenario = "lesson/thin_neck.yaml",
    .story = "The same pulse on the same pigment at three sites: neck and cheek, with a dermis as measured there and "
             "one epidermis for both, and behind the ear, with the epidermis measured there.",
    .guess = {"yes: thin skin gets hotter", "no: thickness hardly matters here, other things do",
              "the neck is thicker, so it needs more light", NULL},
    .ask = {"Which was measured as thinner, the dermis of the neck or of the cheek?",
            "How thick is the epidermis? Ask: measured how?", "From what does skin heal, and where is little of it?",
            "What would you do differently on a neck, and is the reason one of physics?", NULL},
    .left_out = "Healing, appendages, vessels, movement, sun damage of a neck: all that makes it delicate.",
    .source = "[ultrasound-2022, seen]; [chopra-2015, abstract].",
    .next = "All sites with their sources: brevis explain sites",
    .teach = teach_neck,
};

/* ---- a film ---- */

static void teach_film(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { CLEAN, TINTED, BLACK };
    const double light[2] = {brv_phrase_value(compared, CLEAN, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN),
                             brv_phrase_value(compared, TINTED, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN)};
    const struct brv_film_ask *film = &compared->comparison->result[TINTED].ask.film;
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE];
    brv_exercise_answer(
        exercise,
        "The film takes the light first: under the black one the pigment gets %s the light of clean skin and the "
        "surface of the skin %s the rise.",
        brv_phrase_ratio(one, compared, BLACK, CLEAN, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN),
        brv_phrase_ratio(two, compared, BLACK, CLEAN, BRV_LESION, BRV_HEADLINE_SURFACE_PEAK));
    brv_exercise_step(exercise, "Fluence in the layer of the lesion's grains: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN));
    brv_exercise_step(exercise, "Highest rise of the skin's surface: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_SURFACE_PEAK));
    brv_exercise_step(exercise, "Highest rise of a lesion's grain: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(
        exercise,
        "A tinted film, hardly seen, %s: %s the light of clean skin. Going in once it takes 1 - exp(-%.3g /cm x %s) = "
        "%.2g %%; the rest is lost because light that skin sends back goes through it again.",
        brv_phrase_order(light[TINTED], light[CLEAN], "takes its share too", "takes next to nothing", "lets more in"),
        brv_phrase_ratio(one, compared, TINTED, CLEAN, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN), 1e-2 * film->absorption,
        brv_number_unit(two, film->thickness, BRV_LENGTH), -100.0 * expm1(-film->absorption * film->thickness));
    brv_exercise_step(
        exercise,
        "Above the criterion a figure of film or surface is energy over heat capacity: such a film boils, burns or "
        "flies off. A bang then comes from the film, so a sound is no sign that pigment was met.");
    brv_drawing_choices(exercise, compared, BRV_HEADLINE_LIGHT_GRAIN, false,
                        "Fluence in the layer of the lesion's grains, on clean skin and under the films.");
}

const struct brv_lesson brv_lesson_film_on_skin = {
    .name = "film_on_skin",
    .group = "WHERE THE LIGHT GOES",
    .question = "A little make-up was left on. Does it matter?",
    .scenario = "lesson/film_on_skin.yaml",
    .story = "A near infrared pulse on clean skin, under a tinted film of 5 um, and under a black one of 2 um. The "
             "films are "
             "invented.",
    .guess = {"no: the light goes through so thin a film", "yes: the film takes light and heats the surface",
              "it protects the skin: less light gets in", NULL},
    .ask = {"A film 5 um thick absorbs 100 /cm. Which share of the light does it take on the way in?",
            "Where is the heat of the black film a microsecond later?",
            "It cracked and there was a flash. Was the pigment met?", "How do you know that the skin is clean?", NULL},
    .left_out = "A film that burns, flies off or smokes; pigments that turn dark for good; particles driven into skin.",
    .source = "Heat of films [oily-film, memory]; absorption and thickness are this lesson's choice.",
    .next = "The skin is tanned instead of made up: brevis lesson tan. What is alike, and what is not?",
    .teach = teach_film,
};
