/* Observed order of the heat kernels in space and in time, apart, by manufactured solutions.
 *     T(x, t) = e^(-t/s) g(x),  g = cos(a x) in the inner material, P + Q cos(b (x - L)) in the outer one,
 * with value and flux continuous at the face between them although k and rho c jump there. The source that the
 * equation then demands is handed over as exact energy per cell and step. Claim: 2.00; asked: within 0.1 of it on
 * every refinement, and an absolute bound on the finest, so that a scheme that converges to something else fails.
 * The disc and the strip have the slab's solution against depth times cos(w r), which loses heat at r = 1.         */
#include "heat/disc_run.h"
#include "heat/slab.h"
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct manufactured {
    int power;           /* of the area: 0 slab, 2 sphere */
    double face, length; /* where the materials meet; where the domain ends */
    double k[2], c[2];   /* inner, outer */
    double a, b, p, q;   /* see above */
    double decay;        /* s */
};

static struct manufactured make(int power)
{
    struct manufactured m = {.power = power,
                             .face = 1.0,
                             .length = 2.385,
                             .k = {0.43, 1.0},
                             .c = {0.81, 1.17},
                             .a = 1.3,
                             .b = 1.9,
                             .decay = 0.47};
    const double back = m.b * (m.face - m.length);
    m.q = m.k[0] * m.a * sin(m.a * m.face) / (m.k[1] * m.b * sin(back));
    m.p = cos(m.a * m.face) - m.q * cos(back);
    return m;
}

static int outer(const struct manufactured *m, double x)
{
    return x > m->face;
}

static double shape(const struct manufactured *m, double x)
{
    return outer(m, x) ? m->p + m->q * cos(m->b * (x - m->length)) : cos(m->a * x);
}

static double slope(const struct manufactured *m, double x, int side)
{
    return side ? -m->q * m->b * sin(m->b * (x - m->length)) : -m->a * sin(m->a * x);
}

static double area(const struct manufactured *m, double x)
{
    return m->power ? x * x : 1.0;
}

/* int area g dx over a cell that lies in one material. */
static double weighed(const struct manufactured *m, double from, double to)
{
    static const double node[3] = {0.2386191860831969, 0.6612093864662645, 0.9324695142031521};
    static const double weight[3] = {0.4679139345726910, 0.3607615730481386, 0.1713244923791704};
    double sum = 0.0;
    for (int i = 0; i < 3; i++)
        for (int sign = -1; sign < 2; sign += 2) {
            const double x = 0.5 * (from + to) + 0.5 * sign * node[i] * (to - from);
            sum += 0.5 * weight[i] * (to - from) * area(m, x) * shape(m, x);
        }
    return sum;
}

/* Energy a cell needs per unit of int e^(-t/s) dt. */
static double demand(const struct manufactured *m, double from, double to)
{
    const int side = outer(m, 0.5 * (from + to));
    const double flux = m->k[side] * (area(m, to) * slope(m, to, side) - area(m, from) * slope(m, from, side));
    return -m->c[side] * weighed(m, from, to) / m->decay - flux;
}

static double span(const struct manufactured *m, double from, double to)
{
    return m->decay * (exp(-from / m->decay) - exp(-to / m->decay));
}

static double middle(const double face[], size_t i)
{
    return 0.5 * (face[i] + face[i + 1]);
}

/* Runs the chain to `end` in even steps. */
static void run(const struct manufactured *m, struct brv_chain *chain, const double face[], size_t steps, double end)
{
    static const struct brv_outside_rise cold = {{0.0}, {0.0}};
    struct brv_stepper stepper;
    assert_int_equal(brv_stepper_build(&stepper, chain->n, NULL), BRV_OK);
    for (size_t i = 0; i < chain->n; i++) chain->rise[i] = shape(m, middle(face, i));

    const double step = end / (double)steps;
    for (size_t s = 0; s < steps; s++) {
        const double now = step * (double)s;
        for (size_t i = 0; i < chain->n; i++) {
            const double need = demand(m, face[i], face[i + 1]);
            stepper.first[i] = need * span(m, now, now + BRV_STEP_FIRST_PART * step);
            stepper.all[i] = need * span(m, now, now + step);
        }
        brv_stepper_try(&stepper, chain, step, &cold);
        brv_stepper_accept(&stepper, chain);
    }
    brv_stepper_free(&stepper);
}

/* ---- the two kernels behind one door ---- */

struct kernel {
    struct brv_slab slab;
    struct brv_sphere sphere;
    struct brv_chain *chain;
    double *face;
};

static void build(struct kernel *kernel, const struct manufactured *m, double cell)
{
    *kernel = (struct kernel){.chain = NULL};
    if (m->power == 0) {
        const struct brv_slab_layer layer[] = {{m->face, m->k[0], m->c[0], 0.0},
                                               {m->length - m->face, m->k[1], m->c[1], 0.0}};
        const struct brv_slab_grid grid = {cell, 3.0 * cell, 2.0 * cell, 0.0}; /* uneven, and refined as a whole */
        assert_int_equal(brv_slab_build(&kernel->slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
        kernel->chain = &kernel->slab.chain;
        kernel->face = kernel->slab.face;
        return;
    }
    const struct brv_sphere_ask ask = {.radius = m->face,
                                       .cell_radius = m->length,
                                       .conductivity = m->k[0],
                                       .host_conductivity = m->k[1],
                                       .heat_capacity = m->c[0],
                                       .host_heat_capacity = m->c[1],
                                       .finest = cell,
                                       .growth = 3.0 * cell,
                                       .most = 2.0 * cell};
    assert_int_equal(brv_sphere_build(&kernel->sphere, &ask, NULL), BRV_OK);
    kernel->chain = &kernel->sphere.chain;
    kernel->face = kernel->sphere.face;
}

static void release(struct kernel *kernel)
{
    brv_slab_free(&kernel->slab);
    brv_sphere_free(&kernel->sphere);
}

static double space_error(const struct manufactured *m, double cell)
{
    struct kernel kernel;
    build(&kernel, m, cell);
    run(m, kernel.chain, kernel.face, 600, 0.5);
    double most = 0.0;
    for (size_t i = 0; i < kernel.chain->n; i++)
        most = fmax(most, fabs(kernel.chain->rise[i] - exp(-0.5 / m->decay) * shape(m, middle(kernel.face, i))));
    release(&kernel);
    return most;
}

/* Difference to the same grid run with very many steps: the error of time alone. */
static double time_error(const struct manufactured *m, size_t steps)
{
    struct kernel coarse, fine;
    build(&coarse, m, 0.02);
    build(&fine, m, 0.02);
    run(m, coarse.chain, coarse.face, steps, 0.5);
    run(m, fine.chain, fine.face, 4096, 0.5);
    double most = 0.0;
    for (size_t i = 0; i < coarse.chain->n; i++) most = fmax(most, fabs(coarse.chain->rise[i] - fine.chain->rise[i]));
    release(&coarse);
    release(&fine);
    return most;
}

static void check_order(const char *what, const double error[4], double bound)
{
    char text[120];
    for (int i = 0; i < 3; i++) {
        snprintf(text, sizeof text, "observed order, %s, refinement %d", what, i + 1);
        check_row(text, "manufactured solution", log2(error[i] / error[i + 1]), 2.0, 0.1, "the claim is second order");
    }
    snprintf(text, sizeof text, "largest error on the finest, %s", what);
    check_row(text, "manufactured solution", error[3], 0.0, bound, "absolute, on values of order 1");
}

static void slab_order(void **state)
{
    (void)state;
    const struct manufactured m = make(0);
    const double space[4] = {space_error(&m, 0.02), space_error(&m, 0.01), space_error(&m, 0.005),
                             space_error(&m, 0.0025)};
    const double time[4] = {time_error(&m, 16), time_error(&m, 32), time_error(&m, 64), time_error(&m, 128)};
    check_order("slab with a jump of k on a face, space", space, 2e-6);
    check_order("slab with a jump of k on a face, time", time, 2e-6);
}

static void sphere_order(void **state)
{
    (void)state;
    const struct manufactured m = make(2);
    const double space[4] = {space_error(&m, 0.02), space_error(&m, 0.01), space_error(&m, 0.005),
                             space_error(&m, 0.0025)};
    const double time[4] = {time_error(&m, 16), time_error(&m, 32), time_error(&m, 64), time_error(&m, 128)};
    check_order("grain in its closed cell, space", space, 5e-6);
    check_order("grain in its closed cell, time", time, 2e-6);
}

/* ---- depth and radius: the slab's solution times cos(w r), r < 1, with a loss w tan w at its end ---- */

#define WAVE 1.1

struct flat_disc {
    struct manufactured depth;
    struct brv_slab slab;
    struct brv_radial radial;
    struct brv_disc_course course;
};

/* int r^p cos(w r) dr over a cell, by its area: the mean that a cell stands for. */
static double mean_across(const struct brv_radial *radial, size_t cell)
{
    const double a = WAVE * radial->face[cell], b = WAVE * radial->face[cell + 1];
    const double sum = radial->power ? (b * sin(b) + cos(b) - a * sin(a) - cos(a)) / WAVE : sin(b) - sin(a);
    return sum / WAVE / radial->area[cell];
}

/* r^p d/dr cos(w r) over a cell, by its area. */
static double slope_across(const struct brv_radial *radial, size_t cell)
{
    const double a = radial->face[cell], b = radial->face[cell + 1];
    const double out = WAVE * sin(WAVE * b) * (radial->power ? b : 1.0);
    const double in = WAVE * sin(WAVE * a) * (radial->power ? a : 1.0);
    return -(out - in) / radial->area[cell];
}

/* Energy per area a cell needs per unit of int e^(-t/s) dt. */
static double disc_demand(const struct flat_disc *disc, size_t cell, size_t i)
{
    const struct manufactured *m = &disc->depth;
    const double from = disc->slab.face[i], to = disc->slab.face[i + 1];
    const double k = m->k[outer(m, 0.5 * (from + to))];
    return demand(m, from, to) * mean_across(&disc->radial, cell) -
           k * weighed(m, from, to) * slope_across(&disc->radial, cell);
}

static double delivered(const void *m, double time)
{
    return span(m, 0.0, time);
}

static void build_disc(struct flat_disc *disc, int power, double cell)
{
    disc->depth = make(0);
    const struct manufactured *m = &disc->depth;
    const struct brv_slab_layer layer[] = {{m->face, m->k[0], m->c[0], 0.0},
                                           {m->length - m->face, m->k[1], m->c[1], 0.0}};
    const struct brv_slab_grid grid = {cell, 3.0 * cell, 2.0 * cell, 0.0};
    const struct brv_disc_grid across = {.radius = 0.4, .reach = 1.0, .finest = 0.5 * cell, .growth = 3.0 * cell};
    double face[800];
    const size_t n = brv_disc_faces(&across, face);
    assert_int_equal(brv_slab_build(&disc->slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_radial_build(&disc->radial, n, face, power, WAVE * tan(WAVE), NULL), BRV_OK);
}

static void run_disc(struct flat_disc *disc, int power, double cell, size_t steps)
{
    static const double end = 0.5;
    build_disc(disc, power, cell);
    const size_t n = disc->radial.n, n_depth = disc->slab.chain.n;
    double *start = calloc(n * n_depth, sizeof *start), *need = calloc(n * n_depth, sizeof *need);
    for (size_t r = 0; r < n; r++)
        for (size_t i = 0; i < n_depth; i++) {
            start[r * n_depth + i] = mean_across(&disc->radial, r) * shape(&disc->depth, middle(disc->slab.face, i));
            need[r * n_depth + i] = disc_demand(disc, r, i);
        }
    const struct brv_disc_ask ask = {.slab = &disc->slab,
                                     .radial = &disc->radial,
                                     .start = start,
                                     .source = {need, delivered, &disc->depth, end, end},
                                     .n_time = 1,
                                     .time = &end,
                                     .even_steps = steps};
    assert_int_equal(brv_disc_run(&disc->course, &ask, NULL), BRV_OK);
    free(start);
    free(need);
}

static void free_disc(struct flat_disc *disc)
{
    brv_slab_free(&disc->slab);
    brv_radial_free(&disc->radial);
    brv_disc_course_free(&disc->course);
}

static double disc_space_error(int power, double cell)
{
    struct flat_disc disc;
    run_disc(&disc, power, cell, 300);
    double most = 0.0;
    for (size_t r = 0; r < disc.radial.n; r++)
        for (size_t i = 0; i < disc.slab.chain.n; i++) {
            const double exact = exp(-0.5 / disc.depth.decay) * mean_across(&disc.radial, r) *
                                 shape(&disc.depth, middle(disc.slab.face, i));
            most = fmax(most, fabs(brv_disc_rise(&disc.course.field, &disc.radial, r, i) - exact));
        }
    free_disc(&disc);
    return most;
}

static double disc_time_error(int power, size_t steps)
{
    struct flat_disc coarse, fine;
    run_disc(&coarse, power, 0.04, steps);
    run_disc(&fine, power, 0.04, 4096);
    double most = 0.0;
    for (size_t r = 0; r < coarse.radial.n; r++)
        for (size_t i = 0; i < coarse.slab.chain.n; i++)
            most = fmax(most, fabs(brv_disc_rise(&coarse.course.field, &coarse.radial, r, i) -
                                   brv_disc_rise(&fine.course.field, &fine.radial, r, i)));
    free_disc(&coarse);
    free_disc(&fine);
    return most;
}

static void disc_order(void **state)
{
    static const char *const name[2] = {"strip", "disc"};
    (void)state;
    for (int power = 0; power < 2; power++) {
        char what[80];
        const double space[4] = {disc_space_error(power, 0.03), disc_space_error(power, 0.015),
                                 disc_space_error(power, 0.0075), disc_space_error(power, 0.00375)};
        const double time[4] = {disc_time_error(power, 16), disc_time_error(power, 32), disc_time_error(power, 64),
                                disc_time_error(power, 128)};
        snprintf(what, sizeof what, "%s with a jump of k on a face, depth and radius", name[power]);
        check_order(what, space, 6e-6);
        snprintf(what, sizeof what, "%s with a jump of k on a face, time", name[power]);
        check_order(what, time, 2e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(slab_order), cmocka_unit_test(sphere_order),
                                       cmocka_unit_test(disc_order)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
