/* What the relaxation factors mean. kappa in d^2 / (kappa alpha) is a definition: a body, how it was heated, where it
 * is watched and down to what. For every row of trt_kappa_meaning.csv the model's own time by formula is run by the
 * kernel of that body, and the share left then must be the criterion's. d = alpha = 1 throughout.               */
#include "base/constants.h"
#include "effect/relaxation.h"
#include "heat/cooling.h"
#include "heat/slab.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/exact_cylinder.h"
#include "support/exact_sphere.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DATA "tests/verification/data/"

static void advance(struct brv_chain *chain, double time)
{
    static const struct brv_source none = {0};
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, chain->n, NULL), BRV_OK);
    assert_int_equal(brv_stepper_advance(&stepper, chain, &none, 0.0, time, 1e-8, NULL), BRV_OK);
    brv_stepper_free(&stepper);
}

static double middle(const double face[], size_t cell)
{
    return 0.5 * (face[cell] + face[cell + 1]);
}

/* Half a slab of thickness 1 under its plane of symmetry, in like surroundings. */
static void build_slab(struct brv_slab *slab)
{
    const struct brv_slab_layer layer[2] = {{0.5, 1.0, 1.0, 0.0}, {20.0, 1.0, 1.0, 0.0}};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY, 0.0};
    assert_int_equal(brv_slab_build(slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
}

static double slab_centre(const struct brv_slab *slab)
{
    const struct brv_reading reading = brv_slab_reading(slab, 0.0);
    return brv_chain_read(&slab->chain, &reading);
}

/* Of the first layer, whose cells hold the same per volume. */
static double slab_mean(const struct brv_slab *slab)
{
    double sum = 0.0;
    for (size_t i = 0; i < slab->first_cell[1]; i++) sum += slab->chain.rise[i] * (slab->face[i + 1] - slab->face[i]);
    return sum / slab->face[slab->first_cell[1]];
}

static double slab_uniform(double time, int mean)
{
    struct brv_slab slab;
    build_slab(&slab);
    for (size_t i = 0; i < slab.first_cell[1]; i++) slab.chain.rise[i] = 1.0;
    advance(&slab.chain, time);
    const double left = mean ? slab_mean(&slab) : slab_centre(&slab);
    brv_slab_free(&slab);
    return left;
}

/* exp(-x^2 / w^2) with 2 w = 1, as everywhere below. */
static double gaussian(double x)
{
    return exp(-4.0 * x * x);
}

static double slab_gaussian(double time, int mean)
{
    struct brv_slab slab;
    (void)mean;
    build_slab(&slab);
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = gaussian(middle(slab.face, i));
    advance(&slab.chain, time);
    const double left = slab_centre(&slab);
    brv_slab_free(&slab);
    return left;
}

static double slab_first_mode(double time, int mean)
{
    const struct brv_slab_layer layer = {0.5, 1.0, 1.0, 0.0};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY, 0.0};
    struct brv_slab slab;
    (void)mean;
    assert_int_equal(brv_slab_build(&slab, &layer, 1, &grid, 0.0, INFINITY, NULL), BRV_OK);
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = cos(BRV_PI * middle(slab.face, i));
    advance(&slab.chain, time);
    const double left = slab_centre(&slab);
    brv_slab_free(&slab);
    return left;
}

static struct brv_sphere_ask sphere_ask(double cell_radius)
{
    return (struct brv_sphere_ask){.radius = 0.5,
                                   .cell_radius = cell_radius,
                                   .reach = 20.0,
                                   .conductivity = 1.0,
                                   .host_conductivity = 1.0,
                                   .heat_capacity = 1.0,
                                   .host_heat_capacity = 1.0,
                                   .finest = 0.001,
                                   .growth = 0.01,
                                   .most = 0.004};
}

/* One of the four relaxation times that the model measures on its sphere. */
static double measured(double level, int mean)
{
    const struct brv_sphere_ask ask = sphere_ask(INFINITY);
    struct brv_cooling cooling;
    assert_int_equal(brv_cooling_measure(&cooling, &ask, NULL), BRV_OK);
    if (mean) return level > 0.4 ? cooling.mean_half : cooling.mean_efold;
    return level > 0.4 ? cooling.centre_half : cooling.centre_efold;
}

static double sphere_uniform(double time, int mean)
{
    const struct brv_sphere_ask ask = sphere_ask(INFINITY);
    struct brv_sphere sphere;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 1.0;
    advance(&sphere.chain, time);
    const double left = mean ? brv_sphere_grain_mean(&sphere) : brv_chain_read(&sphere.chain, &sphere.centre);
    brv_sphere_free(&sphere);
    return left;
}

static double sphere_gaussian(double time, int mean)
{
    const struct brv_sphere_ask ask = sphere_ask(INFINITY);
    struct brv_sphere sphere;
    (void)mean;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    for (size_t i = 0; i < sphere.chain.n; i++) sphere.chain.rise[i] = gaussian(middle(sphere.face, i));
    advance(&sphere.chain, time);
    const double left = brv_chain_read(&sphere.chain, &sphere.centre);
    brv_sphere_free(&sphere);
    return left;
}

/* A closed cell of radius 1/2 whose outermost face is held cold instead: only its last half cell resists. The grain
 * inside is of the same material and only a face.                                                                 */
static double sphere_first_mode(double time, int mean)
{
    struct brv_sphere_ask ask = sphere_ask(0.5);
    struct brv_sphere sphere;
    (void)mean;
    ask.radius = 0.25;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    const size_t n = sphere.chain.n;
    sphere.chain.link[n] = 0.25 / (0.5 - middle(sphere.face, n - 1));
    for (size_t i = 0; i < n; i++) {
        const double angle = 2.0 * BRV_PI * middle(sphere.face, i);
        sphere.chain.rise[i] = sin(angle) / angle;
    }
    advance(&sphere.chain, time);
    const double left = brv_chain_read(&sphere.chain, &sphere.centre);
    brv_sphere_free(&sphere);
    return left;
}

/* The model has no cylinder: closed forms, in radii instead of diameters. */
static double cylinder_uniform(double time, int mean)
{
    return mean ? exact_cylinder_mean(4.0 * time) : exact_cylinder_centre(4.0 * time);
}

static double cylinder_gaussian(double time, int mean)
{
    (void)mean;
    return exact_cylinder_gaussian(4.0 * time);
}

static double cylinder_first_mode(double time, int mean)
{
    (void)mean;
    return exact_cylinder_first_mode(4.0 * time);
}

static const struct body {
    const char *shape, *profile;
    double (*left)(double time, int mean); /* share left */
    double tolerance;
    const char *reason;
} bodies[] = {
    {"slab", "uniform", slab_uniform, 3e-5, "500 cells in half the slab, five digits of kappa"},
    {"slab", "gaussian", slab_gaussian, 3e-5, "500 cells in half the slab, five digits of kappa"},
    {"slab", "first mode", slab_first_mode, 3e-5, "500 cells in half the slab, five digits of kappa"},
    {"cylinder", "uniform", cylinder_uniform, 4e-6, "closed form, six digits of kappa"},
    {"cylinder", "gaussian", cylinder_gaussian, 4e-6, "closed form, exact kappa"},
    {"cylinder", "first mode", cylinder_first_mode, 4e-6, "closed form, six digits of kappa"},
    {"sphere", "uniform", sphere_uniform, 4e-5, "125 cells or more per radius"},
    {"sphere", "gaussian", sphere_gaussian, 4e-5, "125 cells or more per radius"},
    {"sphere", "first mode", sphere_first_mode, 4e-5, "125 cells or more per radius"},
};

/* What the criterion asks to be left. */
static double level_of(const struct table_row *row)
{
    const char *criterion = table_text(row, "criterion");
    if (strstr(criterion, "to 1/2")) return 0.5;
    if (strstr(criterion, "BY 1/e")) return 1.0 - exp(-1.0);
    if (strstr(criterion, "to 1/e") || strcmp(criterion, "e-fold") == 0) return exp(-1.0);
    table_fail(row, "asks for", criterion);
    return NAN;
}

static const char *name_of(const struct table_row *row)
{
    static char name[160];
    snprintf(name, sizeof name, "%s, %s, %s", table_text(row, "shape"), table_text(row, "profile"),
             table_text(row, "criterion"));
    return name;
}

static void check_body(const struct table_row *row, const struct body *body)
{
    const double kappa = table_number(row, "kappa"), level = level_of(row);
    const double time = brv_relaxation_time(kappa, 1.0, 1.0);
    const int mean = strncmp(table_text(row, "criterion"), "mean", 4) == 0;
    check_row(name_of(row), "relaxation-kappa (computed)", body->left(time, mean), level, body->tolerance,
              body->reason);
    if (body->left == sphere_uniform) {
        char what[200];
        snprintf(what, sizeof what, "%s: kappa as the model measures it", name_of(row));
        check_row(what, "relaxation-kappa (computed)", 1.0 / measured(level, mean), kappa, 3e-4 * kappa,
                  "read between times 2 % apart");
        check_close(mean ? exact_sphere_mean(4.0 * time) : exact_sphere_rise(4.0 * time, 0.0), level, 4e-6, 0.0);
    }
}

/* The two columns say the same in the digits they have, and the model's formula turns one into the other. */
static void check_columns(const struct table_row *row)
{
    const double kappa = table_number(row, "kappa"), time = table_number(row, "alpha_t_over_d2");
    char what[200];
    snprintf(what, sizeof what, "%s: alpha t / d^2 by formula", name_of(row));
    check_row(what, "relaxation-kappa (computed)", brv_relaxation_time(kappa, 1.0, 1.0), time,
              1e-6 + 0.5e-4 / kappa * time, "six decimals, and four of kappa");
}

/* The mean square of the distance from the centre grows by 2 n alpha t, whatever the start: to d^2/4 at kappa = 8 n.
 * One dimension by the slab, three by the sphere.                                                                  */
static double spread(const struct brv_chain *chain, const double face[], const double weight[])
{
    double sum = 0.0, all = 0.0;
    for (size_t i = 0; i < chain->n; i++) {
        const double x = middle(face, i), heat = weight[i] * chain->rise[i];
        sum += heat * x * x;
        all += heat;
    }
    return sum / all;
}

static double slab_growth(double time)
{
    struct brv_slab slab;
    build_slab(&slab);
    for (size_t i = 0; i < slab.first_cell[1]; i++) slab.chain.rise[i] = 1.0;
    const double before = spread(&slab.chain, slab.face, slab.chain.capacity);
    advance(&slab.chain, time);
    const double growth = spread(&slab.chain, slab.face, slab.chain.capacity) - before;
    brv_slab_free(&slab);
    return growth;
}

static double sphere_growth(double time)
{
    const struct brv_sphere_ask ask = sphere_ask(INFINITY);
    struct brv_sphere sphere;
    assert_int_equal(brv_sphere_build(&sphere, &ask, NULL), BRV_OK);
    for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 1.0;
    const double before = spread(&sphere.chain, sphere.face, sphere.chain.capacity);
    advance(&sphere.chain, time);
    const double growth = spread(&sphere.chain, sphere.face, sphere.chain.capacity) - before;
    brv_sphere_free(&sphere);
    return growth;
}

static void check_spread(const struct table_row *row)
{
    if (strcmp(table_text(row, "kappa"), "8n") != 0) table_fail(row, "asks for", table_text(row, "kappa"));
    check_row("slab, mean square spread at kappa 8, d^2", "relaxation-kappa (exact)",
              slab_growth(brv_relaxation_time(8.0, 1.0, 1.0)), 0.25, 1e-4, "second order on 500 cells");
    check_row("sphere, mean square spread at kappa 24, d^2", "relaxation-kappa (exact)",
              sphere_growth(brv_relaxation_time(24.0, 1.0, 1.0)), 0.25, 1e-4, "second order on 125 cells");
}

/* Which of the model's own kappas the table has confirmed. */
static void confirm(int confirmed[], double kappa, double rounding)
{
    for (size_t i = 0; i < brv_n_relaxations; i++)
        if (fabs(brv_relaxations[i].kappa - kappa) <= rounding) confirmed[i] = 1;
}

static void check_meaning(const struct table_row *row, void *confirmed)
{
    if (strcmp(table_text(row, "shape"), "n dimensions") == 0) {
        check_spread(row);
        confirm(confirmed, 24.0, 0.0);
        return;
    }
    check_columns(row);
    confirm(confirmed, table_number(row, "kappa"),
            0.5e-4); /* four decimals, without the zeros at the end: 16 is 16.0000 */
    if (strcmp(table_text(row, "shape"), "any") == 0) return; /* the diffusion length is its own definition */
    for (size_t i = 0; i < sizeof bodies / sizeof *bodies; i++)
        if (strcmp(bodies[i].shape, table_text(row, "shape")) == 0 &&
            strcmp(bodies[i].profile, table_text(row, "profile")) == 0) {
            check_body(row, &bodies[i]);
            return;
        }
    table_fail(row, "no body is known for", name_of(row));
}

/* The Gaussian of the table, exp(-r^2/w^2) with d = 2 w, is down to 1/e at r = d/2: d is its 1/e diameter. By its 1/e2
 * diameter, 2 sqrt(2) w, both kappas would be twice as large.                                                      */
static void gaussians_are_called_by_their_diameter(void **state)
{
    (void)state;
    check_close(gaussian(0.5), exp(-1.0), 1e-15, 0.0); /* rounding */
    size_t n = 0;
    for (size_t i = 0; i < brv_n_relaxations; i++) {
        if (!strstr(brv_relaxations[i].name, "Gaussian")) continue;
        assert_non_null(strstr(brv_relaxations[i].meaning, "of 1/e diameter d"));
        n++;
    }
    assert_int_equal(n, 2);
}

static void kappas_mean_what_they_say(void **state)
{
    int confirmed[32] = {0};
    (void)state;
    assert_true(brv_n_relaxations <= 32);
    assert_int_equal(table_each(DATA "trt_kappa_meaning.csv", check_meaning, confirmed), 21);
    for (size_t i = 0; i < brv_n_relaxations; i++)
        if (!confirmed[i]) fail_msg("kappa %g of the model is not in the table", brv_relaxations[i].kappa);
}

static double unit_of(const struct table_row *row, const char *column)
{
    static const struct {
        const char *name;
        double value;
    } unit[] = {{"um", 1e-6}, {"ns", 1e-9}, {"ms", 1e-3}};
    for (size_t i = 0; i < sizeof unit / sizeof *unit; i++)
        if (strcmp(unit[i].name, table_text(row, column)) == 0) return unit[i].value;
    table_fail(row, "has an unknown unit", table_text(row, column));
    return NAN;
}

static void check_formula(const struct table_row *row, void *context)
{
    (void)context;
    const double size = table_number(row, "size") * unit_of(row, "size_unit");
    const double time = brv_relaxation_time(table_number(row, "kappa"), size, BRV_TRADE_DIFFUSIVITY);
    char what[120];
    snprintf(what, sizeof what, "relaxation by formula, %s %s %s, kappa %s [%s]", table_text(row, "target"),
             table_text(row, "size"), table_text(row, "size_unit"), table_text(row, "kappa"),
             table_text(row, "TRT_unit"));
    check_row(what, "trade-diffusivity (memory)", time / unit_of(row, "TRT_unit"), table_number(row, "TRT"),
              1.001 * table_rounding(row, "TRT"), "printed digits");
}

static void times_by_formula(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "trt_by_formula.csv", check_formula, NULL), 39);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(gaussians_are_called_by_their_diameter),
                                       cmocka_unit_test(kappas_mean_what_they_say), cmocka_unit_test(times_by_formula)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
