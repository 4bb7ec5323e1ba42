/* The sentences of a report: their numbers are those of the curves, and they stay true for long pulses, trains, films, cold
 * plates, skin without pigment and grains above the criterion.                                                     */
#include "base/constants.h"
#include "report/grain_layer.h"
#include "report/moment.h"
#include "report/note.h"
#include "report/number.h"
#include "report/story.h"

#include "support/check.h"
#include "support/reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define PULSE(width, fluence) "light: {wavelength: 532 nm, pulse: " width ", spot: 4 mm, fluence: " fluence "}\n"
#define SKIN                  "skin: light\nlesion: {basal.melanosomes: 25 %}\ngrain: {diameter: 0.5 um}\n"

struct told {
    struct brv_request request;
    struct brv_result result;
    struct brv_story story;
};

static struct told *tell(const char *text)
{
    static struct told told;
    const struct outcome outcome = read_text(text);
    if (outcome.code) fail_msg("%s", outcome.messages);
    told.request = outcome.request;
    assert_int_equal(brv_run_solve(&told.result, &told.request.scenario, NULL, NULL), BRV_OK);
    brv_story_tell(&told.story, &told.request, &told.result);
    return &told;
}

static const char *step(const struct told *told, const char *when)
{
    for (size_t i = 0; i < told->story.n; i++)
        if (strstr(told->story.step[i].when, when)) return told->story.step[i].text;
    return NULL;
}

static void says_at(const struct told *told, const char *when, const char *words)
{
    const char *text = step(told, when);
    if (!text) fail_msg("nothing is told %s", when);
    if (!strstr(text, words)) fail_msg("\"%s\" is not in: %s", words, text);
}

static void never_says(const struct told *told, const char *words)
{
    for (size_t i = 0; i < told->story.n; i++)
        if (strstr(told->story.step[i].text, words)) fail_msg("\"%s\" is in: %s", words, told->story.step[i].text);
}

/* Is it said among what a summary, a page and a comparison never leave out? */
static bool notes_gravely(const struct told *told, const char *words)
{
    struct brv_notes notes;
    bool said = false;
    brv_notes_make(&notes, &told->result);
    assert_true(notes.n < BRV_MOST_NOTES);
    for (size_t i = 0; i < notes.n_grave; i++) said |= strstr(notes.text[i], words) != NULL;
    return said;
}

/* On a row a moment is the row; between two it lies on the line; beyond the last it is the last. */
static void a_moment_is_read_off_the_curves(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN);
    const struct brv_site *site = &told->result.site[BRV_LESION];
    const struct brv_history *history = &site->history;
    const double *rise = brv_history_rise(history, BRV_PROBE_LAYER);
    struct brv_moment moment;
    for (size_t i = 2; i + 1 < history->n_time; i += 7) {
        brv_moment_read(&moment, site, BRV_PROBE_LAYER, history->since[i]);
        check_close(moment.rise.value, rise[i], 1e-12, 1e-15);
        brv_moment_read(&moment, site, BRV_PROBE_LAYER, 0.5 * (history->since[i] + history->since[i + 1]));
        check_close(moment.rise.value, 0.5 * (rise[i] + rise[i + 1]), 1e-9, 1e-12); /* rounding of the half way */
        check_close(moment.temperature.value, history->start[BRV_PROBE_LAYER] + moment.rise.value, 1e-14, 0.0);
        check_close(brv_moment_excess(site, history->since[i]).value,
                    history->excess[BRV_PROBE_MEAN * history->n_time + i], 1e-9, 1e-9); /* a difference of two sums */
    }
    brv_moment_read(&moment, site, BRV_PROBE_LAYER, 1e6);
    check_close(moment.rise.value, rise[history->n_time - 1], 0.0, 0.0);
    check_close(brv_moment_last(history), 60.0, 1e-9, 0.0);
    brv_run_free(&told->result);
}

/* Low and high of a moment at the peak are those of the peak; brv_effect_judge found them by another way. */
static void a_moment_has_the_spread_of_its_peak(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN);
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_site *site = &told->result.site[i];
        struct brv_moment moment;
        brv_moment_read(&moment, site, BRV_PROBE_MEAN, site->effect.peak_time[BRV_PROBE_MEAN]);
        /* The peak is the top of a parabola through three rows, the moment lies on a line between two. */
        check_close(moment.rise.value, site->effect.peak[BRV_PROBE_MEAN].value, 1e-3, 0.0);
        check_close(moment.rise.low, site->effect.peak[BRV_PROBE_MEAN].low, 1e-3, 0.0);
        check_close(moment.rise.high, site->effect.peak[BRV_PROBE_MEAN].high, 1e-3, 0.0);
        assert_true(moment.rise.low < moment.rise.value && moment.rise.value < moment.rise.high);
    }
    brv_run_free(&told->result);
}

/* Twice the fluence: twice the rise in the sentence, for light and heat are linear. */
static void numbers_of_sentences_are_those_of_the_run(void **state)
{
    (void)state;
    char words[BRV_MOMENT_SIZE], sentence[2 * BRV_MOMENT_SIZE];
    struct told *told = tell(PULSE("7 ns", "0.1 J/cm2") SKIN);
    struct brv_moment moment;
    brv_moment_read(&moment, &told->result.site[BRV_LESION], BRV_PROBE_LAYER, 1e-3);
    snprintf(sentence, sizeof sentence, "by the pulse it is warmer by %s in the lesion",
             brv_moment_rise(words, &moment.rise));
    says_at(told, "1 ms after the pulse began", sentence);
    const struct brv_spread once = moment.rise;
    brv_run_free(&told->result);

    told = tell(PULSE("7 ns", "0.2 J/cm2") SKIN);
    const struct brv_spread twice = {2.0 * once.value, 2.0 * once.low, 2.0 * once.high};
    snprintf(sentence, sizeof sentence, "by the pulse it is warmer by %s in the lesion",
             brv_moment_rise(words, &twice));
    says_at(told, "1 ms after the pulse began", sentence);
    brv_run_free(&told->result);
}

/* What is left of the highest rise: two numbers of the run, and nothing before that rise has come. */
static void what_is_left_is_told_after_the_peak(void **state)
{
    (void)state;
    char words[BRV_NUMBER_SIZE], sentence[BRV_NUMBER_SIZE + 40];
    struct told *told = tell(PULSE("7 ns", "0.1 J/cm2") SKIN);
    const struct brv_site *site = &told->result.site[BRV_LESION];
    struct brv_moment moment;
    brv_moment_read(&moment, site, BRV_PROBE_LAYER, 1.0);
    snprintf(sentence, sizeof sentence, "Of its highest rise that is %s %% in the lesion",
             brv_number_short(words, 100.0 * moment.rise.value / site->effect.peak[BRV_PROBE_LAYER].value));
    says_at(told, "1 s after the pulse began", sentence);
    says_at(told, "At the end of the pulse", "because fewer share the light"); /* dense pigment shades itself */
    brv_run_free(&told->result);

    told = tell(PULSE("7 ns", "0.1 J/cm2") SKIN "film: {thickness: 10 um, absorption: 4000 /cm}\n");
    assert_true(told->result.site[BRV_NEIGHBOUR].effect.peak_time[BRV_PROBE_LAYER] > 1e-3); /* by the film's heat */
    assert_null(strstr(step(told, "1 ms after the pulse began"), "Of its highest rise"));
    brv_run_free(&told->result);
}

/* Half the light comes while the grain cools as fast: neither faster nor slower is true of it. */
static void at_the_relaxation_time_both_go_on(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("50 ns", "0.1 J/cm2") SKIN);
    says_at(told, "When the grain gives", "heating and cooling go on together");
    brv_run_free(&told->result);
    told = tell(PULSE("300 ns", "0.1 J/cm2") SKIN);
    says_at(told, "When the grain gives", "most of the grain's lead is gone before the light is");
    brv_run_free(&told->result);
}

static void a_cool_grain_has_a_temperature(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.1 J/cm2") SKIN);
    says_at(told, "At the end of the pulse", "It is then at ");
    says_at(told, "When the grain gives", "the grain is heated faster than it can cool");
    says_at(told, "1 µs after", "°C");
    never_says(told, "energy over heat capacity");
    brv_run_free(&told->result);
}

static void above_the_criterion_there_is_no_temperature(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "2 J/cm2") SKIN);
    says_at(told, "At the end of the pulse", "That is absorbed energy over heat capacity, no temperature");
    assert_null(strstr(step(told, "At the end of the pulse"), "It is then at"));
    says_at(told, "1 µs after", "over 112 °C by energy over heat capacity, no temperature");
    brv_run_free(&told->result);
}

static void a_long_pulse_warms_grain_and_layer_together(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("1 ms", "0.6 J/cm2") SKIN);
    says_at(told, "When the grain gives", "grain and layer warm together");
    says_at(told, "At the end of the pulse, 3.5 ms", "under 0.01 %"); /* of its heat; the gaussian ends at 3.5 widths */
    assert_null(step(told, "1 µs after"));                            /* the pulse is on */
    assert_null(step(told, "1 ms after"));
    says_at(told, "1 s after", "Grain and layer are equally warm");
    never_says(told, "faster than it can cool");
    brv_run_free(&told->result);
}

static void a_train_tells_what_is_left(void **state)
{
    (void)state;
    struct told *told = tell("light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.1 J/cm2, count: 5, rate: "
                             "5 Hz}\n" SKIN);
    const struct brv_history *history = &told->result.site[BRV_LESION].history;
    char words[BRV_MOMENT_SIZE], number[BRV_NUMBER_SIZE];
    const double left = history->rise[BRV_PROBE_LAYER * history->n_time + history->before[4]];
    snprintf(words, sizeof words, "in basal: %s K (", brv_number_short(number, left));
    says_at(told, "Just before the last pulse", words);
    says_at(told, "1 ms after the last pulse began", "by the pulses it is warmer by");
    says_at(told, "What it comes to", "in every pulse");
    brv_run_free(&told->result);
}

static void a_cold_plate_is_told_before_the_light(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.1 J/cm2") SKIN
                             "surface: {outside: plate, outside_temperature: 5 degC, from: -2 s, to: 3 s}\n");
    const struct brv_history *history = &told->result.site[BRV_LESION].history;
    const double degrees = history->start[BRV_PROBE_LAYER] - 273.15 +
                           history->cooled[BRV_PROBE_LAYER * history->n_time + history->before[0]];
    char words[BRV_MOMENT_SIZE], number[BRV_NUMBER_SIZE];
    assert_true(degrees > 5.0 && degrees < 20.0); /* two seconds: skin of 33 C, most of the way to the plate's 5 C */
    struct brv_moment moment;                     /* cold counts in a temperature, not in what the pulses do */
    const size_t row = history->n_time - 1, at = BRV_PROBE_LAYER * history->n_time + row;
    brv_moment_read(&moment, &told->result.site[BRV_LESION], BRV_PROBE_LAYER, history->since[row]);
    check_close(moment.rise.value, history->rise[at], 0.0, 0.0);
    check_close(moment.temperature.value, history->start[BRV_PROBE_LAYER] + history->rise[at] + history->cooled[at],
                1e-12, 0.0);
    assert_true(history->cooled[at] < -0.1);
    snprintf(words, sizeof words, "When the light comes basal is at %s °C", brv_number_short(number, degrees));
    says_at(told, "Before the light", words);
    says_at(told, "Before the light", "plate on the skin from -2 s");
    brv_run_free(&told->result);
}

static void a_film_is_told_first(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "1 J/cm2") SKIN "film: {thickness: 2 um, absorption: 2000 /cm}\n");
    const char *text = step(told, "At the end of the pulse");
    assert_non_null(text);
    assert_int_equal(strncmp(text, "The film on the skin is heated first", 36), 0);
    assert_non_null(strstr(text, "may boil, burn or fly off"));
    brv_run_free(&told->result);
}

static void skin_without_pigment_has_no_grains_to_count(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.6 J/cm2") "skin:\n"
                                                        "  - {layer: epidermis, thickness: 60 um, melanosomes: 0 %}\n"
                                                        "  - {layer: dermis, thickness: endless}\n"
                                                        "grain: {layer: epidermis}\n");
    says_at(told, "When the grain gives", "There is no pigment in this skin");
    says_at(told, "What it comes to", "no grains to count");
    says_at(told, "What it comes to", "none, whatever the fluence");
    never_says(told, "disrupted, as the model counts it");
    says_at(told, "1 ms after", "in lesion and neighbour alike");
    brv_run_free(&told->result);
}

/* What lies on the skin is told of by what it does until the light comes, not by its name: cooler, warmer, or nothing. */
static void what_lies_there_before_the_light_is_judged(void **state)
{
    (void)state;
    static const struct {
        const char *surface;
        bool cooler, warmer;
    } row[] = {
        {"surface: {outside: plate, outside_temperature: 5 degC, from: -2 s}\n", true, false},
        {"surface: {outside: plate, outside_temperature: 5 degC, from: -2 s, to: -1 s}\n", true,
         false}, /* still cool */
        {"surface: {outside: plate, outside_temperature: 45 degC, from: -2 s}\n", false, true},
        {"surface: {outside: gel, outside_temperature: 50 degC, from: -60 s}\n", false, true},
        {"surface: {outside: plate, outside_temperature: 5 degC, from: 1 s}\n", false, false}, /* after the pulse */
        {"surface: {outside: plate, outside_temperature: 45 degC, from: 1 s}\n", false, false},
        {"surface: {outside: gel, outside_temperature: 33 degC, from: -2 s}\n", false, false}, /* as warm as the skin */
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char text[512];
        snprintf(text, sizeof text, "%s%s", PULSE("7 ns", "0.1 J/cm2") SKIN, row[i].surface);
        struct told *told = tell(text);
        if (notes_gravely(told, "a cooler start raises") != row[i].cooler) fail_msg("cooler: %s", row[i].surface);
        if (notes_gravely(told, "warm skin needs less light") != row[i].warmer) fail_msg("warmer: %s", row[i].surface);
        brv_run_free(&told->result);
    }
}

/* A run that ends too early says so, and where; one that lasts past the peaks does not. */
static void an_early_end_is_told(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN "watch: {until: 1 ms}\n");
    assert_true(notes_gravely(told, "the run ends at 1 ms while heat is still arriving at the surface, "));
    assert_true(notes_gravely(told, "highest values and damage are of that time only"));
    brv_run_free(&told->result);

    /* 1 mm is a place of its own, though 1.1 mm has the same letters at its end */
    told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN "watch: {until: 1 ms, depths: [1.1 mm, 1 mm]}\n");
    assert_true(notes_gravely(told, "at 1.1 mm, at 1 mm"));
    brv_run_free(&told->result);

    told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN "watch: {until: 60 s}\n");
    assert_false(notes_gravely(told, "still arriving"));
    brv_run_free(&told->result);

    told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN /* warmth of a plate arrives as long as it lies there */
                "surface: {outside: plate, outside_temperature: 50 degC, from: -2 s}\nwatch: {until: 2 s}\n");
    assert_true(notes_gravely(told, "the run ends at 2 s while heat is still arriving at "));
    brv_run_free(&told->result);
}

/* One skin with grains beside one without: the grain of the second is imagined, and shares its light with none. */
static void a_grain_where_none_are_is_imagined(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.6 J/cm2") "skin: {ready: light, basal.melanosomes: 0 %}\n"
                                                        "lesion: {basal.melanosomes: 60 %}\n");
    never_says(told, "because fewer share the light");
    says_at(told, "At the end of the pulse", "The neighbour has no pigment in basal: its grain is imagined");
    says_at(told, "At the end of the pulse", "gets hotter because more light is left there");
    assert_true(notes_gravely(told, "neighbour: no pigment share in that layer. Its grain is imagined"));
    brv_run_free(&told->result);

    told = tell(PULSE("7 ns", "0.6 J/cm2") SKIN);
    never_says(told, "imagined");
    assert_false(notes_gravely(told, "imagined"));
    brv_run_free(&told->result);
}

/* Water boils at 100 degC at the soonest, and grains are seen to disrupt from 112 degC on: a criterion of the mean moves the
 * ceiling between the two and no further. 78 degC under a criterion of 40 is a temperature. */
static void a_criterion_of_warmth_is_no_boiling(void **state)
{
    (void)state;
    static const struct {
        const char *watch;
        double ceiling;
    } ask[] = {{"criterion: 40 degC", 100.0},  {"criterion: 100 degC", 100.0},
               {"criterion: 105 degC", 105.0}, {"criterion: 112 degC", 112.0},
               {"criterion: 150 degC", 112.0}, {"criterion: 40 degC, place: surface", 112.0}};
    for (size_t i = 0; i < sizeof ask / sizeof *ask; i++) {
        char text[400];
        snprintf(text, sizeof text, "%swatch: {%s}\n", PULSE("7 ns", "0.1 J/cm2") "skin: light\n", ask[i].watch);
        struct told *told = tell(text);
        for (size_t site = 0; site < BRV_N_SITE; site++) /* rounding of 273.15 */
            check_close(told->result.site[site].effect.ceiling - BRV_ZERO_C, ask[i].ceiling, 1e-12, 0.0);
        if (i == 0) never_says(told, "over 40");
        brv_run_free(&told->result);
    }
}

/* The words are about the moment they stand at: a layer that is over 112 degC a second later was a temperature before. */
static void a_figure_is_judged_by_its_moment(void **state)
{
    (void)state;
    struct told *told =
        tell("light: {wavelength: 577 nm, pulse: 10 ms, spot: 5 mm, fluence: 60 J/cm2}\n"
             "skin: [{layer: epidermis, thickness: 50 um, melanosomes: 0.1 %}, {layer: plexus, kind: dermis, "
             "thickness: 150 um, blood: 0.2 %}, {layer: deep plexus, kind: dermis, thickness: 300 um, "
             "blood: 20 %}, {layer: dermis, blood: 0.2 %}]\nlesion: {}\n");
    const struct brv_site *site = &told->result.site[BRV_LESION];
    assert_true(site->effect.hottest[BRV_PROBE_MEAN].value > site->effect.ceiling);
    struct brv_moment moment;
    brv_moment_read(&moment, site, BRV_PROBE_MEAN, brv_pulse_end(&told->request.scenario.pulse));
    assert_true(moment.temperature.high < site->effect.ceiling);
    says_at(told, "At the end of the pulse", "It is then at ");
    if (strstr(step(told, "At the end of the pulse"), "no temperature")) fail_msg("a temperature is called none");
    says_at(told, "1 s after", "over 112 °C by energy over heat capacity, no temperature");
    brv_run_free(&told->result);
}

/* Each skin is judged by itself, and its high end too. */
static void a_figure_is_judged_in_each_skin(void **state)
{
    (void)state;
    struct told *told = tell(PULSE("7 ns", "0.2 J/cm2") "skin: light\nlesion: {grain.darkness: 3}\n");
    says_at(told, "At the end of the pulse",
            "That of the lesion is absorbed energy over heat capacity, no temperature");
    says_at(told, "At the end of the pulse", "In the neighbour it is then at ");
    brv_run_free(&told->result);
    told = tell(PULSE("7 ns", "0.2 J/cm2") "skin: light\nlesion: {}\n");
    says_at(told, "At the end of the pulse",
            "to over 112) in lesion and neighbour alike. What lies above 112 °C there is ");
    brv_run_free(&told->result);
}

/* A grain may be followed in another layer than the neighbour's: each figure is named by its own. */
static void two_layers_are_both_named(void **state)
{
    (void)state;
    struct told *told = tell("light: {wavelength: 1064 nm, pulse: 8 ns, spot: 5 mm, fluence: 3 J/cm2}\nskin: light\n"
                             "lesion: {grain.layer: dermis, dermis.melanosomes: 2 %}\n");
    char name[BRV_GRAIN_LAYER_SIZE];
    assert_true(brv_grain_layers_differ(&told->result));
    says_at(told, "Before the light", "followed in dermis in the lesion and in basal, at ");
    says_at(told, "At the end of the pulse", "Its layer, dermis / basal, is above its start by ");
    says_at(told, "At the end of the pulse",
            "In the lesion's dermis the light is 2.85 times the incident, in the neighbour's "
            "basal 3.52 times");
    assert_non_null(step(told, "When the grain gives its heat to dermis / basal"));
    says_at(told, "1 ms after", "Dermis / basal is at ");
    assert_true(notes_gravely(told, "two DIFFERENT layers; their figures do not compare"));
    assert_string_equal(brv_grain_layer_read(name, &told->request, &told->result, sizeof name),
                        "top of dermis / mean of basal");
    assert_string_equal(brv_grain_layer_pair(name, &told->request, &told->result, 12), "dermi / basa");
    assert_string_equal(brv_grain_layer_pair(name, &told->request, &told->result, 9), "der / bas");
    brv_run_free(&told->result);
    told = tell(PULSE("7 ns", "0.2 J/cm2") SKIN);
    assert_false(brv_grain_layers_differ(&told->result));
    assert_string_equal(brv_grain_layer_read(name, &told->request, &told->result, sizeof name), "mean of basal");
    assert_string_equal(brv_grain_layer_pair(name, &told->request, &told->result, 3), "bas");
    assert_false(notes_gravely(told, "DIFFERENT layers"));
    brv_run_free(&told->result);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_moment_is_read_off_the_curves),
        cmocka_unit_test(a_moment_has_the_spread_of_its_peak),
        cmocka_unit_test(numbers_of_sentences_are_those_of_the_run),
        cmocka_unit_test(what_is_left_is_told_after_the_peak),
        cmocka_unit_test(at_the_relaxation_time_both_go_on),
        cmocka_unit_test(a_cool_grain_has_a_temperature),
        cmocka_unit_test(above_the_criterion_there_is_no_temperature),
        cmocka_unit_test(a_long_pulse_warms_grain_and_layer_together),
        cmocka_unit_test(a_train_tells_what_is_left),
        cmocka_unit_test(a_cold_plate_is_told_before_the_light),
        cmocka_unit_test(what_lies_there_before_the_light_is_judged),
        cmocka_unit_test(an_early_end_is_told),
        cmocka_unit_test(a_grain_where_none_are_is_imagined),
        cmocka_unit_test(a_film_is_told_first),
        cmocka_unit_test(skin_without_pigment_has_no_grains_to_count),
        cmocka_unit_test(a_criterion_of_warmth_is_no_boiling),
        cmocka_unit_test(a_figure_is_judged_by_its_moment),
        cmocka_unit_test(a_figure_is_judged_in_each_skin),
        cmocka_unit_test(two_layers_are_both_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
