/* What --vary asks for: values, points, and the files in which points are kept. */
#include "support/check.h"
#include "support/reading.h"

#include "report/hash.h"
#include "report/part.h"
#include "scenario/points.h"
#include "scenario/quantity.h"

#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_SIZE = 256 };

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

/* ---- parts ---- */

enum { N_POINT = 7, N_NUMBER = 3 * BRV_N_SITE * BRV_N_HEADLINE };

static const struct brv_part_head plain = {"0.1.0", "0123456789abcdef", "fedcba9876543210", N_POINT, 1, 1};

static double *numbers(struct brv_headlines *row)
{
    return &row->at[0][0].value;
}

/* Numbers with all their digits, some of which are not there or without end. */
static struct brv_headlines sample_row(size_t point)
{
    struct brv_headlines row;
    for (size_t i = 0; i < N_NUMBER; i++)
        numbers(&row)[i] = sin((double)(point * N_NUMBER + i + 1)) * pow(10.0, (double)i - 40.0);
    numbers(&row)[5] = (double)NAN;
    numbers(&row)[7 + point] = -(double)INFINITY;
    numbers(&row)[50] = -0.0;
    return row;
}

static void check_row_of(const struct brv_headlines *row, size_t point)
{
    struct brv_headlines found = *row, wanted = sample_row(point);
    for (size_t i = 0; i < N_NUMBER; i++)
        assert_true(isnan(numbers(&wanted)[i]) ? isnan(numbers(&found)[i])
                                               : !memcmp(&numbers(&wanted)[i], &numbers(&found)[i], sizeof(double)));
}

struct box {
    char folder[PATH_SIZE], path[PATH_SIZE + 16];
    struct brv_headlines rows[N_POINT];
    struct brv_faults faults;
};

static struct box box_made(void)
{
    struct box box = {.faults = {.n = 0}};
    snprintf(box.folder, sizeof box.folder, "/tmp/brevis-part-XXXXXX");
    assert_non_null(mkdtemp(box.folder));
    snprintf(box.folder + strlen(box.folder), sizeof box.folder - strlen(box.folder), "/a/b.parts");
    snprintf(box.path, sizeof box.path, "%s/1_of_1", box.folder);
    return box;
}

static void box_clear(struct box *box)
{
    char command[2 * PATH_SIZE];
    box->folder[strlen("/tmp/brevis-part-XXXXXX")] = '\0';
    snprintf(command, sizeof command, "rm -rf %s", box->folder);
    assert_int_equal(system(command), 0);
    brv_faults_free(&box->faults);
}

static void write_points(struct box *box, const struct brv_part_head *head, size_t n)
{
    struct brv_part part;
    struct brv_headlines rows[N_POINT];
    assert_int_equal(brv_part_open(&part, box->folder, head, false, box->rows, &box->faults), 0);
    for (size_t i = 0; i < n; i++) rows[i] = sample_row(brv_part_point(&part, part.done + i));
    assert_int_equal(brv_part_add(&part, rows, n, &box->faults), 0);
    brv_part_close(&part);
    brv_part_close(&part);
}

/* How many points are found when it is opened again, or -1 when it is refused. */
static int points_found(struct box *box, const struct brv_part_head *head, bool force)
{
    struct brv_part part;
    memset(box->rows, 0, sizeof box->rows);
    brv_faults_free(&box->faults);
    if (brv_part_open(&part, box->folder, head, force, box->rows, &box->faults)) return -1;
    const int done = (int)part.done;
    for (size_t i = 0; i < part.done; i++) check_row_of(&box->rows[brv_part_point(&part, i)], brv_part_point(&part, i));
    brv_part_close(&part);
    return done;
}

static long size_of(const char *path)
{
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return (long)about.st_size;
}

static void overwrite(const char *path, long at, const char *bytes)
{
    const int file = open(path, O_WRONLY);
    assert_true(file >= 0 && pwrite(file, bytes, strlen(bytes), at) == (ssize_t)strlen(bytes));
    close(file);
}

static void points_are_kept_to_the_last_bit(void **state)
{
    (void)state;
    struct box box = box_made();
    assert_int_equal(points_found(&box, &plain, false), 0);
    write_points(&box, &plain, 3);
    assert_int_equal(points_found(&box, &plain, false), 3);
    write_points(&box, &plain, 4);
    assert_int_equal(points_found(&box, &plain, false), 7);
    box_clear(&box);
}

/* Cut anywhere, all whole lines before the cut are found again and the file goes on from there. */
static void a_torn_end_is_dropped(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 1);
    const long one = size_of(box.path);
    write_points(&box, &plain, 1);
    const long two = size_of(box.path);
    for (long cut = two - 1; cut >= 0; cut -= cut > one - 30 && cut < one + 3 ? 1 : 97) {
        assert_int_equal(truncate(box.path, cut), 0);
        const int wanted = cut >= one ? 1 : 0;
        assert_int_equal(points_found(&box, &plain, false), wanted);
        write_points(&box, &plain, (size_t)(2 - wanted));
        assert_int_equal(size_of(box.path), two);
    }
    overwrite(box.path, two - 9, "zzzz"); /* a last line whose blocks never reached the disk */
    assert_int_equal(points_found(&box, &plain, false), 1);
    box_clear(&box);
}

static void expect_refused(struct box *box, const struct brv_part_head *head, const char *what)
{
    const long before = size_of(box->path);
    assert_int_equal(points_found(box, head, false), -1);
    assert_non_null(strstr(box->faults.fault[0].text, what));
    assert_string_equal(box->faults.fault[0].file, box->path);
    assert_true(box->faults.fault[0].line > 0);
    assert_int_equal(size_of(box->path), before); /* kept as it was */
}

static void what_belongs_elsewhere_is_refused(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 4);
    struct brv_part_head other = plain;
    other.version = "0.2.0";
    expect_refused(&box, &other, "written by brevis 0.1.0, wanted 0.2.0");
    other = plain;
    other.scenario = "1123456789abcdef";
    expect_refused(&box, &other, "belongs to scenario 0123456789abcdef, wanted 1123456789abcdef");
    other = plain;
    other.sweep = "1edcba9876543210";
    expect_refused(&box, &other, "belongs to other keys or values");

    overwrite(box.path, 39, "\x1b"); /* the hash of the scenario: what a file holds reaches no terminal as it is */
    expect_refused(&box, &plain, "belongs to scenario ?");
    overwrite(box.path, 39, "\xC5");
    expect_refused(&box, &plain, "belongs to scenario ?");
    overwrite(box.path, 39, "0");

    overwrite(box.path, size_of(box.path) / 2, "4"); /* a line in the middle */
    overwrite(box.path, size_of(box.path) / 2 + 1, "5");
    expect_refused(&box, &plain, "this line is damaged");
    assert_int_equal(points_found(&box, &plain, true), 0); /* force begins anew */
    write_points(&box, &plain, 2);
    overwrite(box.path, 0, "hello");
    expect_refused(&box, &plain, "the first line of a part is wanted");
    box_clear(&box);
}

static void a_part_has_one_writer(void **state)
{
    (void)state;
    struct box box = box_made();
    struct brv_part first;
    assert_int_equal(brv_part_open(&first, box.folder, &plain, false, box.rows, &box.faults), 0);
    assert_int_equal(points_found(&box, &plain, true), -1);
    assert_string_equal(box.faults.fault[0].text, "another run is writing it");
    brv_part_remove(&first);
    assert_int_equal(access(box.folder, F_OK), -1);
    box_clear(&box);
}

static struct brv_part_head of_three(unsigned part)
{
    struct brv_part_head head = plain;
    head.part = part;
    head.parts = 3;
    return head;
}

static bool says(const struct brv_faults *faults, const char *file, int line, const char *what)
{
    for (size_t i = 0; i < faults->n; i++)
        if (strstr(faults->fault[i].file, file) && faults->fault[i].line == line && strstr(faults->fault[i].text, what))
            return true;
    return false;
}

static void parts_join_when_they_are_whole(void **state)
{
    (void)state;
    struct box box = box_made();
    const struct brv_part_head head[] = {of_three(1), of_three(2), of_three(3)};
    write_points(&box, &head[0], 3); /* 0, 3, 6 */
    write_points(&box, &head[1], 2); /* 1, 4 */
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_true(says(&box.faults, "3_of_3", 0, "is missing; --part 3/3 writes it"));
    brv_faults_free(&box.faults);

    write_points(&box, &head[2], 1); /* 2, not 5 */
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_int_equal(box.faults.n, 1);
    assert_true(says(&box.faults, "3_of_3", 0, "has 1 of 2 points; --part 3/3 goes on with it"));
    brv_faults_free(&box.faults);

    write_points(&box, &head[2], 1);
    memset(box.rows, 0, sizeof box.rows);
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 0);
    for (size_t i = 0; i < N_POINT; i++) check_row_of(&box.rows[i], i);
    box_clear(&box);
}

static void joining_lists_all_faults(void **state)
{
    (void)state;
    struct box box = box_made();
    const struct brv_part_head head[] = {of_three(1), of_three(2), of_three(3)};
    char path[PATH_SIZE + 16];
    write_points(&box, &head[0], 3);
    write_points(&box, &head[1], 2);
    struct brv_part_head other = head[2];
    other.version = "0.0.9";
    write_points(&box, &other, 2);
    write_points(&box, &plain, 2); /* one of one beside them */
    snprintf(path, sizeof path, "%s/1_of_3", box.folder);
    overwrite(path, 200, "x"); /* in its second line */
    snprintf(path, sizeof path, "%s/2_of_3", box.folder);
    assert_int_equal(truncate(path, size_of(path) - 5), 0);
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_true(says(&box.faults, "b.parts", 0, "holds parts of 1 beside those of 3"));
    assert_true(says(&box.faults, "1_of_3", 2, "this line is damaged"));
    assert_true(says(&box.faults, "2_of_3", 3, "this line is cut off"));
    assert_true(says(&box.faults, "2_of_3", 0, "has 1 of 2 points"));
    assert_true(says(&box.faults, "3_of_3", 1, "written by brevis 0.0.9"));
    brv_faults_free(&box.faults);
    assert_int_equal(brv_part_join("/tmp/no-such-folder", &plain, box.rows, &box.faults), 4);
    box_clear(&box);
}

/* A line whose sum fits but which does not belong where it stands. */
static void points_stand_once_and_in_order(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 2);
    char command[4 * PATH_SIZE];
    snprintf(command, sizeof command, "sed -i '2{h;d};3G' %s", box.path); /* the two lines change places */
    assert_int_equal(system(command), 0);
    expect_refused(&box, &plain, "point 1 stands here, wanted 0");
    snprintf(command, sizeof command, "sed -i '2{h;p}' %s", box.path);
    assert_int_equal(system(command), 0);
    expect_refused(&box, &plain, "stands here, wanted 0");
    box_clear(&box);
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
        cmocka_unit_test(points_are_kept_to_the_last_bit),
        cmocka_unit_test(a_torn_end_is_dropped),
        cmocka_unit_test(what_belongs_elsewhere_is_refused),
        cmocka_unit_test(a_part_has_one_writer),
        cmocka_unit_test(parts_join_when_they_are_whole),
        cmocka_unit_test(joining_lists_all_faults),
        cmocka_unit_test(points_stand_once_and_in_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
