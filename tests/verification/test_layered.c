/* Light in plane layers against published and independently computed tables. The tables with their sources and how
 * each number was seen are in tests/verification/data.                                                            */
#include "light/layered.h"
#include "support/check.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_FIELDS = 16, MOST_MEDIA = 6 };

static const char *const five_digits = "five printed digits, and 1e-5 between node counts of the table's own solver";

struct table {
    FILE *file;
    char line[1024];
    char *field[MOST_FIELDS];
};

static struct table open_table(const char *path)
{
    struct table table = {.file = fopen(path, "r")};
    if (!table.file) fail_msg("%s cannot be read; tests run from the top folder", path);
    return table;
}

static void split(struct table *table)
{
    char *rest = table->line;
    for (size_t i = 0; i < MOST_FIELDS; i++) {
        table->field[i] = rest;
        rest += strcspn(rest, ",\n");
        if (*rest) *rest++ = '\0';
    }
}

/* The next row into `field`; closes the file and returns 0 after the last one. Skips comments and the header row. */
static int next_row(struct table *table, const char *header)
{
    while (fgets(table->line, sizeof table->line, table->file)) {
        if (table->line[0] == '#') continue;
        split(table);
        if (strcmp(table->field[0], header) != 0) return 1;
    }
    fclose(table->file);
    return 0;
}

/* A medium in units of its own free path: depth is optical thickness. */
static struct brv_medium medium(double thickness, double albedo, double anisotropy, double index)
{
    return (struct brv_medium){thickness, 1.0 - albedo, albedo, anisotropy, index};
}

static struct brv_layered solve(const struct brv_medium *media, size_t n, double cosine)
{
    const struct brv_layered_ask ask = {
        .n_medium = n, .medium = media, .outside_index = 1.0, .below_index = 1.0, .cosine = cosine};
    struct brv_layered light = {0};
    assert_int_equal(brv_layered_solve(&light, &ask, NULL), BRV_OK);
    check_close(light.residual, 0.0, 0.0, 1e-12); /* rounding: the budget closes to a few 1e-14 */
    return light;
}

static double reflectance(const struct brv_layered *light)
{
    return light->reflected_specular + light->reflected_diffuse;
}

/* Reflectance and transmittance */

/* The published answers of these three were made with few streams; their own table gives the converged ones. */
struct converged {
    const char *name;
    double reflected, transmitted;
};
static const struct converged converged[] = {
    {"d1a", 0.025424, 0.756876}, {"d8a", 0.093010, 0.512812}, {"d8b", 0.225247, 0.650263}, {"giov", 0.25992, 0.0}};

static const struct converged *find_converged(const char *name)
{
    for (size_t i = 0; i < sizeof converged / sizeof *converged; i++)
        if (strcmp(converged[i].name, name) == 0) return &converged[i];
    return NULL;
}

static size_t read_media(struct brv_medium *media, char *const field[])
{
    if (strcmp(field[0], "d8a") == 0 || strcmp(field[0], "d8b") == 0) {
        const int first = strcmp(field[0], "d8a") == 0;
        media[0] = medium(0.25, first ? 0.5 : 0.8, 0.0, 1.0);
        media[1] = medium(0.25, first ? 0.3 : 0.95, 0.0, 1.0);
        return 2;
    }
    media[0] = medium(atof(field[4]), atof(field[3]), atof(field[2]), atof(field[5])); /* atof reads "inf" */
    return 1;
}

static void check_both(const char *name, const char *source, const struct brv_layered *light, double reflected,
                       double transmitted, double tolerance, const char *reason)
{
    char what[80];
    snprintf(what, sizeof what, "layered %s, reflectance", name);
    check_row(what, source, reflectance(light), reflected, tolerance, reason);
    snprintf(what, sizeof what, "layered %s, transmittance", name);
    check_row(what, source, light->transmitted, transmitted, tolerance, reason);
}

static void check_transport(char *const field[])
{
    struct brv_medium media[MOST_MEDIA];
    const size_t n = read_media(media, field);
    const double cosine = strcmp(field[6], "diffuse") == 0 ? BRV_DIFFUSE_INCIDENCE : atof(field[6]);
    struct brv_layered light = solve(media, n, cosine);
    const struct converged *better = find_converged(field[0]);
    char source[128];

    snprintf(source, sizeof source, "%.80s (%s)", field[11], field[9]);
    if (better)
        check_both(field[0], source, &light, better->reflected, better->transmitted, 2e-5, five_digits);
    else if (strcmp(field[9], "COMPUTED") == 0)
        check_both(field[0], source, &light, atof(field[7]), atof(field[8]), 2e-5, five_digits);
    else
        check_both(field[0], source, &light, atof(field[7]), atof(field[8]), atof(field[10]),
                   "as printed in the table");
    brv_layered_free(&light);
}

static void reflectance_and_transmittance(void **state)
{
    (void)state;
    struct table table = open_table("tests/verification/data/transport_checks.csv");
    size_t count = 0;
    for (; next_row(&table, "case"); count++) check_transport(table.field);
    assert_int_equal(count, 129);
}

/* Fluence */

static void fluence_against_depth(void **state)
{
    (void)state;
    struct table table = open_table("tests/verification/data/fluence_checks.csv");
    size_t count = 0;
    for (; next_row(&table, "n"); count++) {
        char *const *field = table.field;
        const struct brv_medium half_space = medium(INFINITY, atof(field[2]), atof(field[1]), atof(field[0]));
        const double expected = atof(field[6]);
        struct brv_layered light = solve(&half_space, 1, 1.0);
        char what[80];
        snprintf(what, sizeof what, "layered fluence, n %s, g %s, albedo %s, tau %s", field[0], field[1], field[2],
                 field[5]);
        check_row(what, "fluence_checks.csv (computed)", brv_layered_fluence(&light, atof(field[5])), expected,
                  5e-4 * expected, "1e-4 between node counts of the table's solver, four to five printed digits");
        brv_layered_free(&light);
    }
    assert_int_equal(count, 24);
}

static size_t disort_media(struct brv_medium *media, const char *problem)
{
    static const double nine[6] = {0.65, 0.70, 0.75, 0.80, 0.85, 0.90};
    static const double eight[3][2] = {{0.5, 0.3}, {0.8, 0.95}, {0.8, 0.95}};
    const size_t n = problem[0] == '9' ? 6 : 2;
    const size_t which = problem[0] == '8' ? (size_t)(problem[1] - 'a') : 0;
    for (size_t i = 0; i < n; i++) {
        const double thickness = n == 6 || which == 2 ? (double)i + 1.0 : 0.25;
        media[i] = medium(thickness, n == 6 ? nine[i] : eight[which][i], 0.0, 1.0);
    }
    return n;
}

static void check_inside(char *const field[])
{
    struct brv_medium media[MOST_MEDIA];
    const size_t n = disort_media(media, field[0]);
    struct brv_layered light = solve(media, n, BRV_DIFFUSE_INCIDENCE);
    const double depth = atof(field[1]);
    char what[80];
    snprintf(what, sizeof what, "layered fluence, problem %s, tau %s", field[0], field[1]);
    check_row(what, "stamnes-1988 problems 8, 9 (seen; recomputed)", brv_layered_fluence(&light, depth), atof(field[9]),
              2e-5, five_digits);
    snprintf(what, sizeof what, "layered net flux, problem %s, tau %s", field[0], field[1]);
    check_row(what, "stamnes-1988 problems 8, 9 (seen; recomputed)", brv_layered_net_flux(&light, depth),
              atof(field[7]) - atof(field[8]), 2e-5, five_digits);
    brv_layered_free(&light);
}

static void inside_layered_media(void **state)
{
    (void)state;
    struct table table = open_table("tests/verification/data/fluence_seen_disort.csv");
    size_t count = 0;
    for (; next_row(&table, "problem"); count++) check_inside(table.field);
    assert_int_equal(count, 14);
}

/* Exact answers of the isotropic half-space: R = 1 - H(mu) sqrt(1 - a), and the fluence at its face is H(mu) times
 * the irradiance across the beam, so H(mu) / mu times the flux across the face.                                 */

static void check_half_space(double albedo, double cosine, double h)
{
    const struct brv_medium half_space = medium(INFINITY, albedo, 0.0, 1.0);
    struct brv_layered light = solve(&half_space, 1, cosine);
    char what[80];
    snprintf(what, sizeof what, "layered half-space, albedo %g, cosine %g, reflectance", albedo, cosine);
    check_row(what, "chandrasekhar-1950 (computed)", reflectance(&light), 1.0 - h * sqrt(1.0 - albedo), 1e-5,
              "H has five decimals");
    snprintf(what, sizeof what, "layered half-space, albedo %g, cosine %g, fluence", albedo, cosine);
    check_row(what, "chandrasekhar-1950 (computed)", cosine * brv_layered_fluence(&light, 0.0), h, 2e-5 * h,
              "H has five decimals");
    brv_layered_free(&light);
}

static void isotropic_half_space(void **state)
{
    (void)state;
    struct table table = open_table("tests/verification/data/h_function.csv");
    size_t count = 0;
    for (; next_row(&table, "albedo"); count++) {
        const double albedo = atof(table.field[0]);
        if (albedo > 0.99999) continue; /* an endless layer must absorb */
        for (size_t i = 1; i <= 10; i++) check_half_space(albedo, 0.1 * (double)i, atof(table.field[i]));
    }
    assert_true(count >= 10);
}

/* Decay of the fluence deep inside, per unit optical depth. Albedos below 0.8 are left out: there the slowest decay is
 * so close to that of unscattered light that no depth is deep enough.                                              */
static void deep_decay(void **state)
{
    (void)state;
    static const struct {
        double anisotropy, albedo, decay;
    } row[] = {{0.0, 0.8, 0.710412},   {0.0, 0.9, 0.525430},  {0.0, 0.95, 0.379485},  {0.0, 0.99, 0.172511},
               {0.0, 0.999, 0.054750}, {0.75, 0.9, 0.288080}, {0.75, 0.99, 0.087103}, {0.75, 0.999, 0.027402},
               {0.8, 0.9, 0.263946},   {0.8, 0.99, 0.078138}, {0.8, 0.999, 0.024517}, {0.9, 0.9, 0.206361},
               {0.9, 0.99, 0.056047},  {0.9, 0.999, 0.017362}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const struct brv_medium half_space = medium(INFINITY, row[i].albedo, row[i].anisotropy, 1.0);
        struct brv_layered light = solve(&half_space, 1, 1.0);
        const double deep = 40.0 / row[i].decay, step = 1.0 / row[i].decay;
        const double ratio = brv_layered_fluence(&light, deep) / brv_layered_fluence(&light, deep + step);
        char what[80];
        snprintf(what, sizeof what, "layered deep decay, g %g, albedo %g", row[i].anisotropy, row[i].albedo);
        check_row(what, "case-1953, h_function.csv (computed)", log(ratio) / step, row[i].decay, 2e-6,
                  "six printed decimals");
        brv_layered_free(&light);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reflectance_and_transmittance),
        cmocka_unit_test(fluence_against_depth),
        cmocka_unit_test(inside_layered_media),
        cmocka_unit_test(isotropic_half_space),
        cmocka_unit_test(deep_decay),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
