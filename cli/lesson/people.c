/* Lessons on people: who is in the room, whose skin it is, and what is left when they come back. */
#include "lesson/lessons.h"

#include "lesson/drawing.h"
#include "lesson/phrase.h"
#include "report/published.h"
#include "side/cie.h"
#include "side/hazard.h"
#include "study/visits.h"

#include <math.h>
#include <string.h>

#define ADVISER "Which eyewear is worn is the laser protection adviser's decision."

/* "1064 nm, 7 ns, 6 mm, 3 J/cm2" */
static void say_pulse(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE];
    snprintf(out, BRV_FIGURE_TEXT, "%.4g nm, %s, %s, %s", 1e9 * ask->beam.wavelength,
             brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
             brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE));
}

/* ---- goggles ---- */

enum { N_DISTANCE = 40 };

/* Density that takes light scattered by the spot down to the limit, from a distance; a point source, eye in front. */
static double scattered_density(const struct brv_hazard *hazard, int edition, double distance)
{
    const double exposure = hazard->reflectance.value * hazard->energy / (acos(-1.0) * distance * distance);
    return brv_hazard_density(exposure, hazard->edition[edition].exposure[BRV_EYE].limit);
}

static void draw_goggles(struct brv_exercise *exercise, const struct brv_scenario *ask, const struct brv_hazard *hazard)
{
    double x[N_DISTANCE], y[BRV_N_EDITION][N_DISTANCE];
    char asked[BRV_FIGURE_TEXT];
    say_pulse(asked, ask);
    for (size_t i = 0; i < N_DISTANCE; i++) {
        x[i] = 0.1 * (double)(i + 1);
        for (int k = 0; k < BRV_N_EDITION; k++) y[k][i] = scattered_density(hazard, k, x[i]);
    }
    const struct brv_drawing drawing = {
        .x = {.column = "distance_m", .label = "distance from the spot, m", .scale = 1.0, .to = 4.0},
        .y = {.column = "density", .label = "density for light off the skin", .scale = 1.0},
        .asked = asked,
        .caption = "What light scattered by the skin, not the beam, would ask of eyewear; taken for a point source.",
        .n_curve = 2,
        .curve = {{.name = "2006", .n = N_DISTANCE, .x = x, .y = y[BRV_EU_2006]},
                  {.name = "2013", .n = N_DISTANCE, .x = x, .y = y[BRV_ICNIRP_2013]}}};
    brv_drawing_add(exercise, &drawing);
}

static void say_goggles(struct brv_exercise *exercise, const struct brv_scenario *ask, const struct brv_hazard *hazard)
{
    const struct brv_hazard_edition *old = &hazard->edition[BRV_EU_2006], *new = &hazard->edition[BRV_ICNIRP_2013];
    const double limit[2] = {old->exposure[BRV_EYE].limit, new->exposure[BRV_EYE].limit};
    brv_exercise_answer(
        exercise,
        "Ask by which edition: it takes a density of %.2f to bring this pulse down to the limit of 2006 and "
        "%.2f to that of 2013. Goggles chosen by the old limit fall %.2g short of the new one. " ADVISER,
        old->density, new->density, new->density - old->density);
    brv_exercise_step(
        exercise,
        "The limit of the eye for one pulse fell from %.2g to %.2g J/m2, to %.2g %% of what it was: density is log10, "
        "so log10 %.2g = %.2g is added at any fluence; a tenth would add 1.",
        limit[0], limit[1], 100.0 * limit[1] / limit[0], limit[0] / limit[1], log10(limit[0] / limit[1]));
    brv_exercise_step(
        exercise,
        "In the spot %.3g J/cm2 lie on the eye, %.2f and %.2f; if all of the pulse goes through a pupil of 7 mm, "
        "%.2f and %.2f. The larger counts.",
        1e-4 * hazard->fluence, old->density_spot, new->density_spot, old->density_pupil, new->density_pupil);
    brv_exercise_step(exercise, "Trains ask for more: for which of them 2013 takes N^-1/4 could not be read; brevis "
                                "room takes it for all, the stricter reading.");
    brv_exercise_step(
        exercise,
        "Not only the beam: light off the skin (%.2g %% comes back, %.2g to %.2g) reaches the limit of 2013 at %.2g m "
        "if the spot is taken for a point, %.2g m with its size; of 2006 at %.2g and %.2g m.",
        100.0 * hazard->reflectance.value, 100.0 * hazard->reflectance.low, 100.0 * hazard->reflectance.high,
        new->scattered.point, new->scattered.distance, old->scattered.point, old->scattered.distance);
    brv_exercise_step(
        exercise, "At %.2g m an eye in front of the spot gets %.2g times the limit of 2013, with the spot's size %.2g.",
        ask->room.distance, new->person, new->person_extent);
    brv_exercise_step(
        exercise,
        "The limit of SKIN is another: the spot gets %.3g times it. It is for bystanders and hands, no aim for a "
        "treatment, which is above it on purpose.",
        new->skin_ratio);
    brv_exercise_step(
        exercise,
        "Why it fell: below a microsecond the retina is hurt by bubbles around its pigment, some ten times below "
        "the threshold of warmth [retina-bubbles-2007, abstract].");
    draw_goggles(exercise, ask, hazard);
}

static brv_status solve_goggles(struct brv_exercise *exercise, const struct brv_choices *choices,
                                const struct brv_control *control, struct brv_error *error)
{
    (void)control;
    struct brv_hazard hazard;
    const struct brv_scenario *ask = &choices->choice[0].request.scenario;
    const brv_status status = brv_hazard_solve(&hazard, ask, error);
    if (status) return status;
    say_goggles(exercise, ask, &hazard);
    return BRV_OK;
}

const struct brv_lesson brv_lesson_which_goggles = {
    .name = "which_goggles",
    .group = "PEOPLE IN THE ROOM",
    .question = "The goggles were bought years ago. Are they still right?",
    .scenario = "lesson/which_goggles.yaml",
    .story =
        "A near infrared pulse in a small room. Somebody stands 2 m away. Two editions of the limits for eyes are at "
        "hand.",
    .guess = {"yes: glass does not age", "that depends on the limits by which they were chosen",
              "no matter: only who looks into the beam is in danger", NULL},
    .ask = {"Density is log10 of exposure over limit. If a limit fell to a tenth: what is added?",
            "How far does light off the skin reach before it is below the limit of the eye?",
            "A treatment is many times above the limit of skin. For whom is that limit made?",
            "What stands on your own goggles: wavelength, density, and by which standard?", NULL},
    .left_out = "Whether glass withstands the pulse, which its standard tests; goggles that do not fit; mirrors and "
                "instruments; many pulses. A standard may ask for more than its density.",
    .source = "Limits [directive-2006-25, seen] and [icnirp-2013, second-hand].",
    .next = "A card for your own room: brevis room scenarios/room_1064nm.yaml.",
    .solve = solve_goggles,
    .tool = "room",
    .reading =
        "One pulse, exposure limits quoted for teaching; look into the edition in force. No air, window or blink.",
};

/* ---- type or colour ---- */

static const struct brv_skin_colour *colour_of(const struct brv_compared *compared, size_t i)
{
    return &compared->choices->choice[i].request.scenario.skin[BRV_NEIGHBOUR].colour;
}

static double angle_of(const struct brv_skin_colour *colour)
{
    return brv_cie_ita(colour->lightness, colour->yellow);
}

static const char *class_of(double angle)
{
    const size_t which = brv_ita_class_of(angle);
    return which < BRV_N_ITA_CLASS ? brv_ita_classes[which].name : "none";
}

static void draw_colour(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const size_t n = compared->comparison->n;
    double x[BRV_MOST_CHOICES], y[3][BRV_MOST_CHOICES];
    const char *names[BRV_MOST_CHOICES];
    for (size_t i = 0; i < n; i++) {
        const struct brv_skin_colour *colour = colour_of(compared, i);
        names[i] = compared->choices->choice[i].name;
        x[i] = (double)(i + 1);
        y[0][i] = colour->melanosomes;
        y[1][i] = colour->low;
        y[2][i] = colour->high;
    }
    const struct brv_drawing drawing = {
        .x = {.column = "choice", .label = "", .scale = 1.0},
        .y = {.column = "melanosomes", .label = "melanosomes of the epidermis, % of volume", .scale = 100.0},
        .names = names,
        .n_name = n,
        .asked = "L* and b* measured three times; pigment by this model, bars by what the measurement leaves open",
        .caption = "Pigment that belongs to each measured colour, by this model. The skin type was the same all year.",
        .n_curve = 1,
        .curve = {{.name = "", .n = n, .x = x, .y = y[0], .low = y[1], .high = y[2], .points = true}}};
    brv_drawing_add(exercise, &drawing);
}

static void teach_colour(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const size_t last = compared->comparison->n - 1;
    const struct brv_skin_colour *first = colour_of(compared, 0), *end = colour_of(compared, last);
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE];
    brv_exercise_answer(exercise,
                        "No: by questionnaire nothing changed, by colour ITA went from %.0f to %.0f degrees, and the "
                        "same pulse gives the "
                        "pigmented layer %s the heat. Nor does the colour give one: it stands for a range of pigment.",
                        angle_of(first), angle_of(end),
                        brv_phrase_ratio(one, compared, last, 0, BRV_NEIGHBOUR, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(
        exercise,
        "%s: L* went from %.3g to %.3g, b* from %.3g to %.3g. ITA is arctan((L* - 50)/b*): %s class in %s, "
        "%s class %s; for L* 67 and b* 15 it is %.3g degrees.",
        fabs(end->lightness - first->lightness) > fabs(end->yellow - first->yellow) ? "L* changes most"
                                                                                    : "b* changes most",
        first->lightness, end->lightness, first->yellow, end->yellow, class_of(angle_of(first)),
        compared->choices->choice[0].name, class_of(angle_of(end)), compared->choices->choice[last].name,
        brv_cie_ita(67.0, 15.0));
    brv_exercise_step(exercise,
                      "Pigment of that colour: %.2g %% (%.2g to %.2g) of the epidermis first, %.2g %% (%.2g to %.2g) "
                      "last, by this model.",
                      100.0 * first->melanosomes, 100.0 * first->low, 100.0 * first->high, 100.0 * end->melanosomes,
                      100.0 * end->low, 100.0 * end->high);
    brv_exercise_step(exercise, "Highest rise of the layer of that skin: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(exercise, "Its grains disrupted: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_SHARE));
    brv_exercise_step(
        exercise,
        "Type by questionnaire and measured colour correlate poorly [ita-questionnaire, abstract]. Within types "
        "III to V one trial saw no difference in darkening [negishi-2013, abstract]: neither gives a setting.");
    draw_colour(exercise, compared);
}

const struct brv_lesson brv_lesson_skin_type_or_colour = {
    .name = "skin_type_or_colour",
    .group = "THE MARGIN",
    .question = "Does the skin type give the setting?",
    .scenario = "lesson/skin_type_or_colour.yaml",
    .story =
        "One forearm, one answer in the questionnaire. Its colour is measured in spring, in June and after summer, and "
        "each gets the same pulse.",
    .guess = {"yes: the type is the type, all year",
              "no: what was measured that day decides how much pigment takes up light",
              "a measured colour gives the setting", NULL},
    .ask = {"Which of L* and b* changes most with a tan?", "Work out ITA = arctan((L* - 50)/b*) for L* 67, b* 15.",
            "Does a measured colour tell how much pigment there is, or between what and what?",
            "What would you measure beside the spot, and on which day?", NULL},
    .left_out =
        "Who darkens afterwards, whatever the colour. Redness in the measurement, hair, an instrument's own offset.",
    .source = "[ita-questionnaire, abstract]; [negishi-2013, abstract]; classes by ITA [chardon-1991, second-hand].",
    .next = "Measure your own sleeve line: above and below. brevis colour scenarios/measured_colour_532nm.yaml",
    .teach = teach_colour,
    .tool = "colour",
};

/* ---- a later visit ---- */

static void draw_visits(struct brv_exercise *exercise, const struct brv_visits *visits)
{
    static const char *const name[2] = {"disrupted", "left after"};
    double x[2][BRV_MOST_VISITS], y[2][3][BRV_MOST_VISITS];
    char asked[BRV_FIGURE_TEXT];
    say_pulse(asked, &visits->result.ask);
    for (size_t i = 0; i < visits->n; i++) {
        const struct brv_visit_site *lesion = &visits->visit[i].site[BRV_LESION];
        const struct brv_spread shown[2] = {lesion->share, lesion->after};
        for (size_t k = 0; k < 2; k++) {
            x[k][i] = (double)(i + 1) + (k ? 0.06 : -0.06); /* so that bars do not cover each other */
            y[k][0][i] = shown[k].value;
            y[k][1][i] = shown[k].low;
            y[k][2][i] = shown[k].high;
        }
    }
    struct brv_drawing drawing = {
        .x = {.column = "visit", .label = "visit", .scale = 1.0, .from = 0.5, .to = (double)visits->n + 0.5},
        .y = {.column = "share", .label = "of grains, of pigment, %", .scale = 100.0, .to = 100.0},
        .asked = asked,
        .caption =
            "A teaching model of pigment alone: grains of the lesion disrupted at each visit, of those there, and its "
            "pigment left. Bars: darkness and criterion.",
        .n_curve = 2};
    for (size_t k = 0; k < 2; k++)
        drawing.curve[k] = (struct brv_drawing_curve){name[k], visits->n, x[k], y[k][0], y[k][1], y[k][2], true};
    brv_drawing_add(exercise, &drawing);
}

/* "mottled loss of pigment 14 of 14 reported for it (chan-2010), 3 of 22 (wattanakrai-2010)": the event once for all its
 * papers.                                                                                                              */
static void add_papers(struct brv_exercise *exercise)
{
    char text[BRV_SHEET_LINE_SIZE];
    const char *event = "";
    size_t used = 0;
    for (size_t i = 0; i < brv_n_complications && used < sizeof text; i++) {
        const struct brv_complication *row = &brv_complications[i];
        const bool same = !strcmp(event, row->event);
        if (!row->repeated) continue;
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%s%s%s%s (%s)",
                                 !used  ? ""
                                 : same ? ", "
                                        : "; ",
                                 same ? "" : row->event, same ? "" : " ", row->rate,
                                 row->chosen ? " reported for it" : "", row->source);
        event = row->event;
    }
    brv_exercise_step(exercise, "Papers on many low visits at 1064 nm, by their abstracts: %s.", text);
}

/* "24 % (0.31 to 71)" */
static const char *share_text(char out[BRV_NUMBER_SIZE], const struct brv_spread *share)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.12s %% (%.12s to %.12s)", brv_number_short(value, 100.0 * share->value),
             brv_number_short(low, 100.0 * share->low), brv_number_short(high, 100.0 * share->high));
    return out;
}

static void say_visits(struct brv_exercise *exercise, const struct brv_visits *visits)
{
    const struct brv_visit *first = &visits->visit[0], *last = &visits->visit[visits->n - 1];
    const struct brv_visit_site *a = &first->site[BRV_LESION], *b = &last->site[BRV_LESION],
                                *around = &last->site[BRV_NEIGHBOUR];
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    brv_exercise_answer(
        exercise,
        "The dark grains go first. In this model the pulse disrupts %s of the lesion's grains at visit 1 and %s of "
        "those left at visit %zu: the same setting does %s.",
        share_text(one, &a->share), share_text(two, &b->share), visits->n,
        brv_phrase_order(b->share.value, a->share.value, "less", "as much", "more"));
    brv_exercise_step(exercise, "Pigment left: %s after visit 1, %s after visit %zu. Ranges by darkness and criterion.",
                      share_text(one, &a->after), share_text(two, &b->after), visits->n);
    brv_exercise_step(
        exercise,
        "What is left is %s: mean darkness %.3g of what it was. The fluence that takes the darkest 5 %% went from %.2g "
        "to %.2g J/cm2.",
        brv_phrase_order(b->darkness.value, 1.0, "paler", "about as dark", "darker"), b->darkness.value,
        1e-4 * a->threshold.value, 1e-4 * b->threshold.value);
    brv_exercise_step(exercise, "And it stands in %s light: %.3g times that of visit 1, for less pigment shades less.",
                      brv_phrase_order(b->light.value, 1.0, "less", "about as much", "more"), b->light.value);
    brv_exercise_step(exercise, "The skin around is treated as well: of its pigment %s is left at the end.",
                      share_text(one, &around->after));
    brv_exercise_step(
        exercise,
        "Nothing here is a reason to turn the fluence up after the pale grains: the sum on one place is %.3g "
        "J/cm2 by now, and nobody knows a sum that harms.",
        1e-4 * last->fluence);
    add_papers(exercise);
    draw_visits(exercise, visits);
}

static brv_status solve_visits(struct brv_exercise *exercise, const struct brv_choices *choices,
                               const struct brv_control *control, struct brv_error *error)
{
    struct brv_visits visits;
    const brv_status status = brv_visits_solve(&visits, &choices->choice[0].request.scenario, control, error);
    if (status) return status;
    say_visits(exercise, &visits);
    brv_visits_free(&visits);
    return BRV_OK;
}

const struct brv_lesson brv_lesson_later_visit = {
    .name = "later_visit",
    .group = "THE MARGIN",
    .question = "The same setting did less at the next visit. Why?",
    .scenario = "lesson/later_visit.yaml",
    .story = "The same near infrared pulse at five visits. What a pulse disrupts is gone by the next visit; a tenth of "
             "what is "
             "missing is back.",
    .guess = {"the device got weaker", "the skin got used to it",
              "the dark and large grains went first; paler ones are left", NULL},
    .ask = {"Which grains of a mixture are disrupted first, and which are left?",
            "Less pigment shades less. Who gains from that?",
            "The skin around is treated as well. What happens to its pigment?",
            "How long should the interval be? Look for it in the answer.", NULL},
    .left_out =
        "The interval: the heat of a pulse is gone within minutes, so heat gives no interval. Clearing by the body, "
        "white dots, "
        "darkening, healing, and how many visits anybody needs.",
    .source = "A tenth that comes back is this project's choice, nobody has measured it; papers by their keys, all "
              "abstracts.",
    .next = "One visit with three times the fluence: brevis visits scenarios/visits_once_1064nm.yaml. What is left, "
            "and where?",
    .solve = solve_visits,
    .tool = "visits",
};
