/* The contract of light/layered: the budget, the limits with known answers, and what a caller may do with it. */
#include "light/fresnel.h"
#include "light/layered.h"
#include "support/check.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

static const struct brv_medium skin[3] = {
    {50e-6, 1100.0, 28000.0, 0.85, 1.4}, {10e-6, 3400.0, 28000.0, 0.85, 1.4}, {INFINITY, 190.0, 28000.0, 0.85, 1.4}};

static struct brv_layered_ask ask_for(const struct brv_medium *media, size_t n, double cosine)
{
    return (struct brv_layered_ask){
        .n_medium = n, .medium = media, .outside_index = 1.0, .below_index = 1.0, .cosine = cosine};
}

static struct brv_layered solve(const struct brv_layered_ask *ask)
{
    struct brv_layered light = {0};
    struct brv_error error = {0};
    const brv_status status = brv_layered_solve(&light, ask, &error);
    if (status) print_error("%s: %g\n", error.place, error.found);
    assert_int_equal(status, BRV_OK);
    return light;
}

/* Rounding of a few hundred rays and modes; the budget is refused at 1e-8 by the solver itself. */
static const double rounding = 1e-12;

/* Budget */

static void check_budget(const struct brv_layered_ask *ask)
{
    struct brv_layered light = solve(ask);
    check_close(light.residual, 0.0, 0.0, rounding);
    double top = 0.0;
    for (size_t i = 0; i < ask->n_medium && !isinf(ask->medium[i].thickness); i++) {
        const double bottom = top + ask->medium[i].thickness;
        const double above = brv_layered_net_flux(&light, top);
        const double below = brv_layered_net_flux(&light, nextafter(bottom, top));
        check_close(above - below, light.absorbed[i], 1e-9, rounding); /* nextafter moves the depth by 1e-16 of it */
        top = bottom;
    }
    check_close(brv_layered_net_flux(&light, 0.0), 1.0 - light.reflected_specular - light.reflected_diffuse, 0.0,
                rounding);
    brv_layered_free(&light);
}

static void check_every_incidence(const struct brv_medium *media, size_t n)
{
    static const double cosine[] = {1.0, 0.6, 0.05, 1e-6, BRV_DIFFUSE_INCIDENCE};
    static const double outside[] = {1.0, 1.37, 1.4, 1.76};
    for (size_t i = 0; i < sizeof cosine / sizeof *cosine; i++)
        for (size_t j = 0; j < sizeof outside / sizeof *outside; j++) {
            struct brv_layered_ask ask = ask_for(media, n, cosine[i]);
            ask.outside_index = outside[j];
            check_budget(&ask);
        }
}

static void skin_keeps_its_budget(void **state)
{
    (void)state;
    check_every_incidence(skin, 3);
}

static void awkward_stacks_keep_their_budget(void **state)
{
    (void)state;
    const struct brv_medium stack[6] = {{1e-6, 0.01, 0.99, 0.98, 1.5},       {0.3, 0.0, 0.0, 0.0, 1.33},
                                        {1e4, 0.0, 1.0, 0.9, 1.4},           {5.0, 2.0, 0.0, 0.8, 1.62},
                                        {2.0, 1e-9, 1.0 - 1e-9, 0.85, 1.40}, {1e3, 1e-4, 1.0, 0.5, 1.52}};
    check_every_incidence(stack, 6);
    for (size_t i = 0; i < 6; i++) check_every_incidence(&stack[i], 1);
}

static void sixteen_indices_keep_their_budget(void **state)
{
    (void)state;
    struct brv_medium stack[16];
    for (size_t i = 0; i < 16; i++)
        stack[i] = (struct brv_medium){0.4, 0.05, 0.95, 0.8, 1.34 + 0.01 * (double)((7 * i) % 16)};
    check_every_incidence(stack, 16);
}

/* Limits with known answers */

static void nothing_is_lost_without_absorption(void **state)
{
    (void)state;
    const struct brv_medium white = {8.0, 0.0, 1.0, 0.75, 1.4};
    const struct brv_layered_ask ask = ask_for(&white, 1, 1.0);
    struct brv_layered light = solve(&ask);
    assert_true(light.absorbed[0] == 0.0);
    check_close(light.reflected_specular + light.reflected_diffuse + light.transmitted, 1.0, 0.0, rounding);
    for (double depth = 0.0; depth <= 8.0; depth += 0.385)
        check_close(brv_layered_net_flux(&light, depth), light.transmitted, 0.0, rounding);
    brv_layered_free(&light);
}

/* A plate that only absorbs: the beam goes to and fro between its faces. */
static void without_scattering_it_is_beer(void **state)
{
    (void)state;
    const double cosine = 0.6, index = 1.4, thickness = 1.385;
    const struct brv_medium plate = {thickness, 0.7, 0.0, 0.9, index};
    const struct brv_layered_ask ask = ask_for(&plate, 1, cosine);
    struct brv_layered light = solve(&ask);

    const double inside = sqrt(1.0 - (1.0 - cosine * cosine) / (index * index));
    const double face = brv_fresnel_reflectance(1.0, cosine, index, inside);
    const double pass = exp(-0.7 * thickness / inside), series = 1.0 / (1.0 - face * face * pass * pass);
    check_close(light.reflected_specular, face, 1e-14, 0.0);
    check_close(light.transmitted, (1.0 - face) * (1.0 - face) * pass * series, rounding, 0.0);
    check_close(light.reflected_diffuse, (1.0 - face) * (1.0 - face) * face * pass * pass * series, rounding, 0.0);
    for (double depth = 0.0; depth < thickness; depth += 0.185) {
        const double down = exp(-0.7 * depth / inside), up = face * pass * pass / down;
        check_close(brv_layered_fluence(&light, depth), (1.0 - face) * series * (down + up) / inside, rounding, 0.0);
    }
    brv_layered_free(&light);
}

/* Fresnel's number at normal incidence and Brewster's angle, where half of the light is not reflected at all. */
static void fresnel_has_its_known_values(void **state)
{
    (void)state;
    check_close(brv_fresnel_reflectance(1.0, 1.0, 1.5, 1.0), 0.04, 1e-14, 0.0);
    const double cosine = 1.0 / sqrt(1.0 + 1.5 * 1.5), inside = brv_fresnel_cosine(1.0, cosine, 1.5);
    const double across = (1.0 - 1.5 * 1.5) / (1.0 + 1.5 * 1.5);
    check_close(brv_fresnel_reflectance(1.0, cosine, 1.5, inside), 0.5 * across * across, 1e-13, 0.0);
    assert_true(brv_fresnel_cosine(1.5, 0.7, 1.0) == 0.0);
    assert_true(brv_fresnel_reflectance(1.5, 0.7, 1.0, 0.0) == 1.0);
}

static void uniform_light_meets_the_mean_of_fresnel(void **state)
{
    (void)state;
    const struct brv_medium black = {10.0, 10.0, 0.0, 0.0, 1.5};
    const struct brv_layered_ask ask = ask_for(&black, 1, BRV_DIFFUSE_INCIDENCE);
    struct brv_layered light = solve(&ask);
    double mean = 0.0;
    for (size_t i = 0; i < 20000; i++) { /* midpoint rule in the squared cosine, good to 1e-6 */
        const double cosine = sqrt(((double)i + 0.5) / 20000.0);
        mean += brv_fresnel_reflectance(1.0, cosine, 1.5, brv_fresnel_cosine(1.0, cosine, 1.5)) / 20000.0;
    }
    check_close(light.reflected_specular, mean, 0.0, 1e-5);
    check_close(light.reflected_diffuse, 0.0, 0.0, rounding);
    brv_layered_free(&light);
}

static void a_denser_outside_reflects_oblique_light_wholly(void **state)
{
    (void)state;
    struct brv_layered_ask ask = ask_for(skin, 3, 0.5);
    ask.outside_index = 1.76;
    struct brv_layered light = solve(&ask);
    check_close(light.reflected_specular, 1.0, 0.0, 0.0);
    check_close(brv_layered_fluence(&light, 20e-6), 0.0, 0.0, rounding);
    brv_layered_free(&light);
}

static void clear_layers_between_total_reflections_are_dark(void **state)
{
    (void)state;
    const struct brv_medium stack[3] = {
        {1e-3, 0.0, 0.0, 0.0, 1.6}, {1e-3, 0.0, 0.0, 0.0, 1.38}, {1.0, 0.1, 0.9, 0.9, 1.62}};
    const struct brv_layered_ask ask = ask_for(stack, 3, 0.3);
    struct brv_layered light = solve(&ask);
    const double fluence = brv_layered_fluence(&light, 0.5e-3);
    assert_true(fluence > 0.0 && fluence < 4.0 * 1.6 * 1.6);
    brv_layered_free(&light);
}

/* The same skin said differently */

static void check_same_light(const struct brv_layered *one, const struct brv_layered *other, double tolerance)
{
    check_close(one->reflected_diffuse, other->reflected_diffuse, tolerance, 0.0);
    for (double depth = 3e-6; depth < 3e-3; depth *= 1.7) {
        check_close(brv_layered_fluence(one, depth), brv_layered_fluence(other, depth), tolerance, 0.0);
        check_close(brv_layered_net_flux(one, depth), brv_layered_net_flux(other, depth), tolerance, 0.0);
    }
}

static void a_layer_split_in_two_changes_nothing(void **state)
{
    (void)state;
    struct brv_medium split[5] = {skin[0], skin[0], skin[1], skin[2], skin[2]};
    split[0].thickness = 0.385 * skin[0].thickness;
    split[1].thickness = skin[0].thickness - split[0].thickness;
    split[3].thickness = 0.7e-3;
    static const double cosine[] = {1.0, 0.35, BRV_DIFFUSE_INCIDENCE};
    for (size_t i = 0; i < 3; i++) {
        const struct brv_layered_ask whole = ask_for(skin, 3, cosine[i]), parts = ask_for(split, 5, cosine[i]);
        struct brv_layered one = solve(&whole), other = solve(&parts);
        check_same_light(&one, &other, 1e-10);
        check_close(other.absorbed[0] + other.absorbed[1], one.absorbed[0], 1e-10, 0.0);
        brv_layered_free(&one);
        brv_layered_free(&other);
    }
}

static void other_units_give_the_same_numbers(void **state)
{
    (void)state;
    struct brv_medium scaled[3];
    for (size_t i = 0; i < 3; i++) {
        scaled[i] = skin[i];
        scaled[i].thickness *= 1024.0; /* a power of two: equal to the last digit */
        scaled[i].absorption /= 1024.0;
        scaled[i].scattering /= 1024.0;
    }
    const struct brv_layered_ask metres = ask_for(skin, 3, 0.8), others = ask_for(scaled, 3, 0.8);
    struct brv_layered one = solve(&metres), other = solve(&others);
    assert_true(one.reflected_diffuse == other.reflected_diffuse);
    assert_true(brv_layered_fluence(&one, 2e-4) == brv_layered_fluence(&other, 1024.0 * 2e-4));
    brv_layered_free(&one);
    brv_layered_free(&other);
}

/* A step of the index that tends to none: the steps meet rays of their own, so the light must not jump. A step of
 * 1e-7 keeps rays beyond 0.0004 from grazing and so may move the fluence by about that much.                     */
static void a_vanishing_step_of_the_index_vanishes(void **state)
{
    (void)state;
    struct brv_medium stepped[3] = {skin[0], skin[1], skin[2]};
    stepped[0].index += 1e-7;
    stepped[2].index -= 1e-7;
    const struct brv_layered_ask even = ask_for(skin, 3, 1.0), steps = ask_for(stepped, 3, 1.0);
    struct brv_layered one = solve(&even), other = solve(&steps);
    check_same_light(&one, &other, 4e-4);
    check_close(one.reflected_diffuse, other.reflected_diffuse, 0.0, 2e-5);
    brv_layered_free(&one);
    brv_layered_free(&other);
}

static void fluence_jumps_at_a_step_and_flux_does_not(void **state)
{
    (void)state;
    struct brv_medium stepped[3] = {skin[0], skin[1], skin[2]};
    stepped[0].index = 1.5;
    const struct brv_layered_ask ask = ask_for(stepped, 3, 1.0);
    struct brv_layered light = solve(&ask);
    const double face = 50e-6, above = nextafter(face, 0.0);
    assert_true(fabs(brv_layered_fluence(&light, face) / brv_layered_fluence(&light, above) - 1.0) > 0.05);
    check_close(brv_layered_net_flux(&light, face), brv_layered_net_flux(&light, above), 1e-11, 0.0);
    brv_layered_free(&light);
}

/* Thickness has no end to it: what is deep is small, positive and still has its digits. */
static void light_fades_smoothly_to_nothing(void **state)
{
    (void)state;
    const struct brv_medium grey[2] = {{1e4, 0.5, 0.5, 0.7, 1.4}, {1.0, 0.5, 0.5, 0.7, 1.4}};
    const struct brv_layered_ask ask = ask_for(grey, 2, 1.0);
    struct brv_layered light = solve(&ask);
    double before = brv_layered_fluence(&light, 1.0);
    for (double depth = 2.0; depth < 600.0; depth += 1.0) {
        const double now = brv_layered_fluence(&light, depth);
        assert_true(now > 0.0 && now < before);
        before = now;
    }
    brv_layered_free(&light);
}

/* Ownership */

static void free_may_be_called_twice(void **state)
{
    (void)state;
    const struct brv_layered_ask ask = ask_for(skin, 3, 1.0);
    struct brv_layered light = solve(&ask), nothing = {0};
    brv_layered_free(&light);
    brv_layered_free(&light);
    brv_layered_free(&nothing);
    assert_memory_equal(&light, &nothing, sizeof light);
}

static void a_failure_leaves_it_empty(void **state)
{
    (void)state;
    const struct brv_medium not_a_number = {1e-3, NAN, 1.0, 0.0, 1.4};
    const struct brv_layered_ask ask = ask_for(&not_a_number, 1, 1.0);
    struct brv_layered light = {0};
    const struct brv_layered nothing = {0};
    struct brv_error error = {0};
    assert_int_equal(brv_layered_solve(&light, &ask, &error), BRV_NUMERICS);
    assert_int_equal(error.status, BRV_NUMERICS);
    assert_memory_equal(&light, &nothing, sizeof light);
}

static void the_same_question_has_the_same_answer(void **state)
{
    (void)state;
    const struct brv_layered_ask ask = ask_for(skin, 3, 0.7);
    struct brv_layered one = solve(&ask), other = solve(&ask);
    assert_true(one.residual == other.residual && one.reflected_diffuse == other.reflected_diffuse);
    assert_true(brv_layered_fluence(&one, 1e-4) == brv_layered_fluence(&other, 1e-4));
    brv_layered_free(&one);
    brv_layered_free(&other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(skin_keeps_its_budget),
        cmocka_unit_test(awkward_stacks_keep_their_budget),
        cmocka_unit_test(sixteen_indices_keep_their_budget),
        cmocka_unit_test(nothing_is_lost_without_absorption),
        cmocka_unit_test(without_scattering_it_is_beer),
        cmocka_unit_test(fresnel_has_its_known_values),
        cmocka_unit_test(uniform_light_meets_the_mean_of_fresnel),
        cmocka_unit_test(a_denser_outside_reflects_oblique_light_wholly),
        cmocka_unit_test(clear_layers_between_total_reflections_are_dark),
        cmocka_unit_test(a_layer_split_in_two_changes_nothing),
        cmocka_unit_test(other_units_give_the_same_numbers),
        cmocka_unit_test(a_vanishing_step_of_the_index_vanishes),
        cmocka_unit_test(fluence_jumps_at_a_step_and_flux_does_not),
        cmocka_unit_test(light_fades_smoothly_to_nothing),
        cmocka_unit_test(free_may_be_called_twice),
        cmocka_unit_test(a_failure_leaves_it_empty),
        cmocka_unit_test(the_same_question_has_the_same_answer),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
