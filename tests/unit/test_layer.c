/* What is left of the heat of a layer at the surface: its closed forms against the kernel that runs take, and their law
 * for late times. A third way, by image sources, is in test_problems.c.                                              */
#include "effect/layer.h"

#include "heat/slab.h"
#include "heat/stepper.h"

#include "support/check.h"

#include <math.h>

#define PI 3.14159265358979323846

/* A layer of width 1 warmed by 1 at once, on 40 of the same: no heat gets to its end before 5.2 quarters. Cells of a
 * thousandth and steps of a ten-millionth leave 1e-5 of the start.                                                 */
static void a_layer_cools_as_the_slab_does(void **state)
{
    (void)state;
    static const double times[3] = {0.5, 5.2, 20.8};
    const struct brv_slab_layer layer[2] = {{1.0, 1.0, 1.0, 0.0}, {40.0, 1.0, 1.0, 0.0}};
    const struct brv_slab_grid grid = {0.001, 0.01, INFINITY, 0.0};
    const struct brv_source none = {0};
    struct brv_slab slab;
    struct brv_stepper stepper;
    double now = 0.0;
    assert_int_equal(brv_slab_build(&slab, layer, 2, &grid, 0.0, 0.0, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    for (size_t i = 0; i < slab.first_cell[1]; i++) slab.chain.rise[i] = 1.0;
    for (size_t k = 0; k < 3; k++) {
        double mean = 0.0;
        assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &none, now, 0.25 * times[k], 1e-8, NULL), BRV_OK);
        now = 0.25 * times[k];
        for (size_t i = 0; i < slab.first_cell[1]; i++) mean += slab.chain.capacity[i] * slab.chain.rise[i];
        const struct brv_reading top = brv_slab_reading(&slab, 0.0);
        check_close(brv_layer_surface(times[k]), brv_chain_read(&slab.chain, &top), 0.0, 1e-5);
        check_close(brv_layer_mean(times[k]), mean, 0.0, 1e-5);
    }
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

/* From where on the slow law holds: 2 x/sqrt(pi) at the surface, to x^2/3 of it; nothing has left before the start. */
static void a_layer_cools_slowly(void **state)
{
    (void)state;
    for (double n = 100.0; n < 1e9; n *= 10.0) {
        check_close(brv_layer_surface(n), 2.0 / sqrt(PI * n), 0.5 / n, 0.0);
        check_close(brv_layer_mean(n), 2.0 / sqrt(PI * n), 1.0 / n, 0.0);
    }
    check_close(brv_layer_surface(1e-9), 1.0, 1e-15, 0.0);
    check_close(brv_layer_mean(1e-9), 1.0, 2e-5, 0.0); /* the edge alone has cooled, as sqrt(n/4 pi) */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_layer_cools_as_the_slab_does),
        cmocka_unit_test(a_layer_cools_slowly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
