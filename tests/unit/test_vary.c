/* What --vary asks for: values and points. The files in which points are kept: test_part.c. */
#include "support/check.h"
#include "support/reading.h"

#include "report/hash.h"
#include "scenario/points.h"
#include "scenario/quantity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- values ---- */

/* A whole --vary on the scenario that says everything. */
static struct brv_vary varied(const char *argument)
{
    const struct outcome outcome = read_text(whole);
    struct brv_faults faults = {.n = 0};
    struct brv_vary vary;
    assert_true(brv_vary_split(&vary, argument, &outcome.request, &faults));
    assert_true(brv_vary_measure(&vary, &faults));
    assert_int_equal(faults.n, 0);
    return vary;
}

static void even_values_are_those_one_would_write(void **state)
{
    (void)state;
    char text[BRV_VARY_VALUE_SIZE];
    const double spot[] = {2e-3, 3e-3, 4e-3, 5e-3, 6e-3, 7e-3, 8e-3, 9e-3, 10e-3}; /* the doubles, to the last bit */
    const struct brv_vary vary = varied("light.spot=2 mm..10 mm:9");
    assert_int_equal(vary.n, 9);
    assert_false(vary.log);
    for (size_t i = 0; i < vary.n; i++) assert_true(brv_vary_value(&vary, i) == spot[i]);
    assert_string_equal(brv_vary_text(text, &vary, 0), "2 mm");
    assert_string_equal(brv_vary_text(text, &vary, 3), "5 mm");
    assert_string_equal(brv_vary_text(text, &vary, 8), "10 mm");

    const struct brv_vary share = varied("skin.basal.melanosomes=2%..20%:10");
    assert_true(brv_vary_value(&share, 5) == 0.12);
    assert_int_equal(share.site, BRV_NEIGHBOUR);
    assert_int_equal(share.layer, 1);
    const struct brv_vary degrees = varied("surface.temperature=20 degC..40 degC:5");
    assert_true(brv_vary_value(&degrees, 1) == 25.0 + 273.15);
    const struct brv_vary count = varied("light.count=1..5:5");
    for (size_t i = 0; i < 5; i++) assert_true(brv_vary_value(&count, i) == 1.0 + (double)i);
    const struct brv_vary rate = varied("light.rate=0.5 /s..3.25 /s:12"); /* a unit that begins with a sign */
    assert_true(brv_vary_value(&rate, 1) == 0.75);
}

static void logarithms_have_one_ratio(void **state)
{
    (void)state;
    char text[BRV_VARY_VALUE_SIZE];
    const struct brv_vary vary = varied("light.pulse=1 ns..1 ms:25:log");
    assert_true(vary.log);
    for (size_t i = 1; i < vary.n; i++) /* twelve digits each: 5e-12 for each of the two */
        check_close(brv_vary_value(&vary, i) / brv_vary_value(&vary, i - 1), pow(10.0, 0.25), 1e-11, 0.0);
    assert_true(brv_vary_value(&vary, 0) == 1e-9 && brv_vary_value(&vary, 24) == 1e-3);
    assert_string_equal(brv_vary_text(text, &vary, 12), "1 us"); /* three decades up, in the unit that reads best */
    assert_string_equal(brv_vary_text(text, &vary, 2), "3.16227766017 ns");
}

static void a_unit_may_stand_at_the_end_alone(void **state)
{
    (void)state;
    const struct brv_vary vary = varied("light.spot=2..10 mm:3");
    assert_string_equal(vary.from_text, "2 mm");
    assert_true(vary.from == 2e-3 && vary.to == 10e-3);
    const struct brv_vary exponent = varied("light.pulse=5e-1..2e0 us:3");
    assert_true(exponent.from == 0.5e-6);
    const struct brv_vary degrees = varied("surface.temperature=20..30degC:3");
    assert_true(degrees.from == 293.15);
}

/* What a point is computed with is what `--set KEY=TEXT` gives, to the last bit. */
static void texts_read_back(void **state)
{
    (void)state;
    static const char *const argument[] = {"light.pulse=0.37 ns..0.91 ms:37:log",
                                           "light.spot=1.1 mm..13.7 mm:29",
                                           "skin.basal.melanosomes=0.3 %..31.7 %:41:log",
                                           "surface.temperature=1.7 degC..36.3 degC:31",
                                           "grain.darkness=0.13..7.7:23:log",
                                           "lesion.grain.diameter=0.11 um..2.3 um:17",
                                           "surface.from=-0.3 s..0.3 s:7"};
    for (size_t k = 0; k < sizeof argument / sizeof *argument; k++) {
        const struct brv_vary vary = varied(argument[k]);
        for (size_t i = 0; i < vary.n; i++) {
            char value[BRV_VARY_VALUE_SIZE], set[BRV_VARY_PATH_SIZE + BRV_VARY_VALUE_SIZE + 1];
            const char *setting = set;
            snprintf(set, sizeof set, "%s=%s", vary.path, brv_vary_text(value, &vary, i));
            const struct outcome outcome = read_with(whole, &setting, 1);
            assert_string_equal(outcome.messages, "");
            assert_true(brv_vary_own(&vary, &outcome.request.scenario) == brv_vary_value(&vary, i));
        }
    }
}

/* ---- refusals and points ---- */

/* A scenario in a file, the messages of its points without the file's name. */
struct asked {
    int code;
    struct brv_points points;
    char messages[MESSAGES_SIZE];
};

static struct asked ask(const char *text, const char *const vary[], size_t n_vary)
{
    char path[] = "/tmp/brevis-vary-XXXXXX";
    const int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(write(file, text, strlen(text)), strlen(text));
    close(file);
    struct brv_faults faults = {.n = 0};
    struct asked asked = {.messages = ""};
    asked.code = brv_points_read(&asked.points, path, NULL, 0, vary, n_vary, &faults);
    asked.points.name = "FILE";
    for (size_t i = 0, n = 0; i < faults.n && n < MESSAGES_SIZE; i++)
        n += (size_t)snprintf(asked.messages + n, MESSAGES_SIZE - n, "%s:%d:%d: %s\n",
                              strcmp(faults.fault[i].file, path) ? faults.fault[i].file : "FILE", faults.fault[i].line,
                              faults.fault[i].column, faults.fault[i].text);
    brv_faults_free(&faults);
    unlink(path);
    return asked;
}

#define FORM                                                                                                           \
    "KEY=FROM..TO:N is wanted, with :log after N where steps of the logarithm are, as in light.spot=2mm..10mm:9\n"

static void refusals_say_where_and_what(void **state)
{
    (void)state;
    static const struct {
        const char *vary, *messages;
    } row[] = {
        {"light.spt=2 mm..3 mm:5", "--vary light.spt:1:1: light.spt is not a key; did you mean light.spot?\n"},
        {"skin.basl.blood=1 %..2 %:5",
         "--vary skin.basl.blood:1:1: the skin has no layer called basl; did you mean basal?\n"},
        {"lesion.rete.blood=1 %..2 %:5", "--vary lesion.rete.blood:1:1: lesion.rete: the skin has no such layer, only "
                                         "stratum corneum, basal, dermis\n"},
        {"light.profile=1..2:3", "--vary light.profile:1:1: light.profile takes flat or gaussian; a sweep varies a "
                                 "number, such as light.spot\n"},
        {"grain.layer=1..2:3", "--vary grain.layer:1:1: grain.layer takes the name of a layer; a sweep varies a "
                               "number, such as light.spot\n"},
        {"watch.depths=0 mm..1 mm:3", "--vary watch.depths:1:1: watch.depths takes a list of values; a sweep varies "
                                      "one number, such as light.spot\n"},
        {"title=1..2:3",
         "--vary title:1:1: title is no key that takes a number; a sweep varies one, such as light.spot\n"},
        {"light.spot=2..3:5",
         "--vary light.spot:1:12: light.spot = 2: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm\n"
         "--vary light.spot:1:15: light.spot = 3: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm\n"},
        {"light.spot=2 mm..3:5",
         "--vary light.spot:1:18: light.spot = 3: the unit is missing (nm, um, mm, cm, m); allowed 0.5 mm to 30 mm\n"},
        {"light.spot=2 mm..50 mm:5", "--vary light.spot:1:18: light.spot = 50 mm, allowed 0.5 mm to 30 mm\n"},
        {"light.spot=3 mm..2 mm:5",
         "--vary light.spot:1:12: light.spot = 3 mm..2 mm: the range runs backwards; FROM must lie below TO\n"},
        {"light.spot=2 mm..2000 um:5",
         "--vary light.spot:1:12: light.spot = 2 mm..2000 um: the range is empty; FROM must lie below TO\n"},
        {"skin.dermis.thickness=1 mm..endless:5",
         "--vary skin.dermis.thickness:1:29: skin.dermis.thickness = endless: a sweep varies finite values\n"},
        {"light.spot=2 mm..3 mm:1", "--vary light.spot:1:23: N = 1, allowed 2 to 10000\n"},
        {"light.spot=2 mm..3 mm:10001", "--vary light.spot:1:23: N = 10001, allowed 2 to 10000\n"},
        {"light.spot=2 mm..3 mm:1000000000", "--vary light.spot:1:23: N = 1000000000, allowed 2 to 10000\n"},
        {"light.spot=2 mm..3 mm:99999999999999999999",
         "--vary light.spot:1:23: N = 99999999999999999999, allowed 2 to 10000\n"},
        {"light.spot=2 mm..3 mm:1e3",
         "--vary light.spot:1:23: N = 1e3: a whole number is wanted, 2 to 10000, and after "
         "it nothing or :log\n"},
        {"light.spot=2 mm..3 mm:-5",
         "--vary light.spot:1:23: N = -5: a whole number is wanted, 2 to 10000, and after it "
         "nothing or :log\n"},
        {"light.spot=2 mm..3 mm:9:lin", "--vary light.spot:1:24: :lin stands after N; only :log can stand there\n"},
        {"light.spot=2 mm..3 mm:9:logs", "--vary light.spot:1:24: :logs stands after N; only :log can stand there\n"},
        {"light.spot=2 mm..3 mm", "--vary light.spot:1:18: the colon and the number of values are missing; " FORM},
        {"light.spot=2 mm:9", "--vary light.spot:1:12: the .. between FROM and TO is missing; " FORM},
        {"light.spot=..3 mm:9", "--vary light.spot:1:12: FROM is missing in front of the ..; " FORM},
        {"light.spot=2 mm..:9", "--vary light.spot:1:18: TO is missing behind the ..; " FORM},
        {"light.spot", "--vary light.spot:1:1: " FORM},
        {"=2 mm..3 mm:9", "--vary :1:1: " FORM},
        {"skin.basal.blood=0 %..5 %:4:log", "--vary skin.basal.blood:1:18: skin.basal.blood = 0 %: a logarithm begins "
                                            "above 0; leave out :log or begin higher\n"},
        {"surface.temperature=20 degC..30 degC:4:log",
         "--vary surface.temperature:1:38: the logarithm of a temperature means nothing; leave out :log\n"},
        {"light.seed=1..2:3",
         "--vary light.seed:1:12: light.seed = 1.5: a whole number is wanted, here up to 9e15 (at light.seed = 1.5)\n"},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        struct asked asked = ask(whole, &row[i].vary, 1);
        assert_string_equal(asked.messages, row[i].messages);
        assert_int_equal(asked.code, 3);
        brv_points_free(&asked.points);
    }
}

static void faults_of_both_keys_are_listed(void **state)
{
    (void)state;
    static const char *const both[] = {"light.spot=2 mm..50 mm:5", "light.pulse=2 ns..1 ns:5"};
    struct asked asked = ask(whole, both, 2);
    assert_string_equal(asked.messages,
                        "--vary light.spot:1:18: light.spot = 50 mm, allowed 0.5 mm to 30 mm\n"
                        "--vary light.pulse:1:13: light.pulse = 2 ns..1 ns: the range runs backwards; FROM must lie "
                        "below TO\n");
    brv_points_free(&asked.points);

    static const char *const twice[] = {"light.spot=2 mm..5 mm:5", "light.spot=3 mm..4 mm:5"};
    asked = ask(whole, twice, 2);
    assert_string_equal(asked.messages, "--vary light.spot:1:1: light.spot is varied twice; another key is wanted\n");
    brv_points_free(&asked.points);

    static const char *const many[] = {"light.spot=2 mm..5 mm:101", "light.pulse=1 ns..4 ns:100"};
    asked = ask(whole, many, 2);
    assert_string_equal(asked.messages,
                        "--vary light.pulse:1:24: 101 x 100 = 10100 points, allowed at most 10000 in all\n");
    brv_points_free(&asked.points);

    static const char *const rivals[] = {"light.energy=20 mJ..50 mJ:2", "light.fluence=1 J/cm2..2 J/cm2:2"};
    asked = ask(whole, rivals, 2);
    assert_int_equal(asked.code, 3);
    assert_non_null(strstr(asked.messages, "give fluence or energy, not both"));
    brv_points_free(&asked.points);
}

/* A point between good ends that is refused stops the sweep, and says at which values. */
static void every_point_is_checked(void **state)
{
    (void)state;
    static const char *const vary[] = {"vessel.depth=0.1 mm..0.9 mm:3", "skin.basal.thickness=11 um..211 um:2"};
    struct asked asked = ask(whole, vary, 2);
    assert_int_equal(asked.code, 3);
    assert_non_null(strstr(asked.messages, "--vary vessel.depth:1:14: vessel.depth = 0.1 mm: the vessel"));
    assert_non_null(strstr(asked.messages, "(at vessel.depth = 0.1 mm, skin.basal.thickness = 211 um)\n"));
    brv_points_free(&asked.points);
}

/* Whole numbers only: of 21 points the ends are good. What the scenario itself has wrong all of them would meet again. */
static void many_refused_points_are_counted(void **state)
{
    (void)state;
    static const char *const vary[] = {"light.seed=1..2:21"};
    struct asked asked = ask(whole, vary, 1);
    assert_non_null(strstr(asked.messages, "11 further points of 21 are refused\n"));
    brv_points_free(&asked.points);
    asked = ask("nothing: 1\nlight: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, fluence: 0.6 J/cm2}\nskin: light\n",
                vary, 1);
    assert_non_null(strstr(asked.messages, "further points are refused; the last 12 of 21 were not looked at\n"));
    brv_points_free(&asked.points);
}

static void the_first_key_is_the_slowest(void **state)
{
    (void)state;
    static const char *const vary[] = {"light.spot=2 mm..4 mm:3", "light.fluence=1 J/cm2..2 J/cm2:2"};
    char text[BRV_POINTS_TEXT_SIZE];
    struct asked asked = ask(whole, vary, 2);
    assert_string_equal(asked.messages, "");
    assert_int_equal(asked.points.n, 6);
    assert_true(asked.points.own);
    assert_string_equal(brv_points_text(text, &asked.points, 1), "light.spot = 2 mm, light.fluence = 2 J/cm2");
    assert_string_equal(brv_points_text(text, &asked.points, 4), "light.spot = 4 mm, light.fluence = 1 J/cm2");
    struct brv_request request;
    assert_int_equal(brv_points_request(&request, &asked.points, 3), 0);
    assert_true(request.scenario.beam.spot == 3e-3 && request.scenario.beam.fluence == 2e4);
    assert_true(asked.points.base.scenario.beam.spot == 5.3e-3); /* energy, its rival, gave way at the points only */
    brv_points_free(&asked.points);
    brv_points_free(&asked.points);
}

/* A scenario may leave out what varies; what it lacks besides is told once. */
static void a_key_may_come_from_the_sweep_alone(void **state)
{
    (void)state;
    static const char no_pulse[] = "light: {wavelength: 755 nm, spot: 3.7 mm, fluence: 1.37 J/cm2}\nskin: dark\n";
    static const char *const pulse[] = {"light.pulse=3 ns..5 ns:3"}, *const spot[] = {"light.spot=2 mm..3 mm:2"};
    struct asked asked = ask(no_pulse, pulse, 1);
    assert_string_equal(asked.messages, "");
    assert_false(asked.points.own);
    assert_true(asked.points.base.scenario.pulse.width == 3e-9);
    brv_points_free(&asked.points);
    asked = ask(no_pulse, spot, 1);
    assert_string_equal(asked.messages, "FILE:1:1: light.pulse is missing: pulse width: full width at half maximum, or "
                                        "the length of a square pulse, 10 ps to 100 ms\n");
    brv_points_free(&asked.points);
}

static void hash_of(char out[BRV_POINTS_HASH_SIZE], const char *vary)
{
    struct asked asked = ask(whole, &vary, 1);
    assert_string_equal(asked.messages, "");
    brv_points_hash(out, &asked.points);
    brv_points_free(&asked.points);
}

static void the_hash_is_of_keys_and_values(void **state)
{
    (void)state;
    char one[BRV_POINTS_HASH_SIZE], other[BRV_POINTS_HASH_SIZE];
    hash_of(one, "light.spot=2 mm..10 mm:5");
    hash_of(other, "light.spot=0.2 cm..1 cm:5");
    assert_string_equal(one, other);
    static const char *const others[] = {"light.spot=2 mm..10 mm:6", "light.spot=2 mm..10 mm:5:log",
                                         "light.spot=2 mm..10.1 mm:5", "skin.dermis.thickness=2 mm..10 mm:5"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        hash_of(other, others[i]);
        assert_string_not_equal(one, other);
    }
}

/* Scenarios that are one without --vary, and not with it: what is given as a fluence stays where a spot varies, what is given
 * as an energy is spread over it; a lesion that follows the basal layer varies with it, one that is written does not.     */
static void the_hash_is_of_what_is_asked(void **state)
{
    (void)state;
#define PULSE "light: {wavelength: 532 nm, pulse: 7 ns, spot: 4 mm, "
    static const char *const pair[][3] = {
        {"light.spot=2 mm..6 mm:3", PULSE "fluence: 0.6 J/cm2}\nskin: light\n",
         PULSE "energy: 75.39822368615504 mJ}\nskin: light\n"},
        {"skin.basal.melanosomes=5 %..20 %:3", PULSE "fluence: 0.6 J/cm2}\nskin: light\n",
         PULSE "fluence: 0.6 J/cm2}\nskin: light\nlesion: {basal.melanosomes: 34.2 %}\n"}};
#undef PULSE
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++) {
        char hash[2][BRV_POINTS_HASH_SIZE], scenario[2][BRV_HASH_SIZE];
        for (size_t k = 0; k < 2; k++) {
            struct asked asked = ask(pair[i][k + 1], &pair[i][0], 1);
            assert_string_equal(asked.messages, "");
            brv_points_hash(hash[k], &asked.points);
            brv_hash_scenario(scenario[k], &asked.points.base.scenario);
            brv_points_free(&asked.points);
        }
        assert_string_equal(scenario[0], scenario[1]); /* else the pair would prove nothing */
        assert_string_not_equal(hash[0], hash[1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(even_values_are_those_one_would_write),
        cmocka_unit_test(logarithms_have_one_ratio),
        cmocka_unit_test(a_unit_may_stand_at_the_end_alone),
        cmocka_unit_test(texts_read_back),
        cmocka_unit_test(refusals_say_where_and_what),
        cmocka_unit_test(faults_of_both_keys_are_listed),
        cmocka_unit_test(every_point_is_checked),
        cmocka_unit_test(many_refused_points_are_counted),
        cmocka_unit_test(the_first_key_is_the_slowest),
        cmocka_unit_test(a_key_may_come_from_the_sweep_alone),
        cmocka_unit_test(the_hash_is_of_keys_and_values),
        cmocka_unit_test(the_hash_is_of_what_is_asked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
