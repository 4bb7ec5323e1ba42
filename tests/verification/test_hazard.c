/* Optical density and distances: published examples, closed forms, and whole scenarios put together by hand. */
#include "side/hazard.h"

#include "base/constants.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>

static const struct brv_exposure_ask ns_2013 = {
    .edition = BRV_ICNIRP_2013, .organ = BRV_EYE, .wavelength = 1064e-9, .width = 5e-9};
static const struct brv_exposure_ask ns_2006 = {
    .edition = BRV_EU_2006, .organ = BRV_EYE, .wavelength = 1064e-9, .width = 5e-9};

static void density(void **state)
{
    (void)state;
    struct brv_exposure exposure;
    struct brv_exposure_ask ask = ns_2006;
    ask.width = 1e-9;
    assert_true(brv_exposure_solve(&exposure, &ask));
    check_row("density for 12.5 J/cm2, 1 ns, 1064 nm, 2006", "laser-textbook-2021 (seen)",
              brv_hazard_density(12.5e4, exposure.limit), 6.4, 0.05, "digits printed");
    ask.edition = BRV_ICNIRP_2013;
    assert_true(brv_exposure_solve(&exposure, &ask));
    check_row("the same by the rows of 2013", "own-limits (computed)", brv_hazard_density(12.5e4, exposure.limit), 6.80,
              0.005, "digits printed");
    check_close(brv_hazard_density(1.0, 2.0), 0.0, 0.0, 0.0);
    check_close(brv_hazard_pupil(20e-3), 20e-3 / (BRV_PI * 12.25e-6), 1e-14, 0.0);
}

/* Power for energy and irradiance for exposure: the formula is the same. */
static void along_a_beam(void **state)
{
    (void)state;
    check_row("distance, 1 W, 1 mrad, 25 W/m2, m", "laser-textbook-2021 (seen)", brv_hazard_beam(1.0, 25.0, 1e-3, 0.0),
              225.0, 1.0, "its limit is not told; 25.4 W/m2 gives 223.9");
    check_close(brv_hazard_beam(1.0, 25.0, 1e-3, 0.0), 225.675833, 1e-8, 0.0);
    check_close(brv_hazard_beam(1.0, 25.4, 1e-3, 0.0), 223.89180675, 1e-8, 0.0);
    const double r = brv_hazard_beam(0.3, 2e-2, 20e-3, 4e-3), wide = 4e-3 + 20e-3 * r;
    check_close(4.0 * 0.3 / (BRV_PI * wide * wide), 2e-2, 1e-12, 0.0); /* there the limit is met */
    check_close(brv_hazard_beam(1e-9, 2e-2, 20e-3, 4e-3), 0.0, 0.0, 0.0);
}

/* The first step takes C_E at the distance of a point; farther steps lead closer, to where the limit is met. */
static void scattered_light(void **state)
{
    (void)state;
    struct brv_scattered to_2013, to_2006;
    brv_hazard_scattered(&to_2013, &ns_2013, 0.5 * 1.0, 6e-3);
    brv_hazard_scattered(&to_2006, &ns_2006, 0.5 * 1.0, 6e-3);
    check_row("scattered light of 1 J, reflectance 0.5, 2013, m", "own-limits (computed)", to_2013.point, 2.82, 0.005,
              "digits printed");
    check_row("the same, 2006", "own-limits (computed)", to_2006.point, 1.78, 0.005, "digits printed");
    const double there = brv_exposure_factor_e(BRV_ICNIRP_2013, 6e-3 / to_2013.point, 5e-9);
    check_row("the same, 2013, first step with C_E, m", "own-limits (computed)", to_2013.point / sqrt(there), 2.4, 0.05,
              "digits printed");
    check_close(to_2013.distance, to_2013.point * to_2013.point * BRV_ALPHA_MIN / 6e-3, 1e-12, 0.0); /* 1.99 m */
    check_close(to_2006.distance, to_2006.point * to_2006.point * BRV_ALPHA_MIN / 6e-3, 1e-12, 0.0);
    check_close(to_2013.angle, 6e-3 / to_2013.distance, 1e-12, 0.0);
    check_close(0.5 / (BRV_PI * to_2013.distance * to_2013.distance), 2e-2 * to_2013.extent, 1e-12, 0.0);
    check_close(brv_exposure_factor_e(BRV_ICNIRP_2013, to_2013.angle, 5e-9), to_2013.extent, 1e-12, 0.0);
}

/* Beyond alpha_max C_E grows as the exposure does: either the limit is met farther out or nowhere. */
static void small_and_large_sources(void **state)
{
    (void)state;
    struct brv_scattered found;
    brv_hazard_scattered(&found, &ns_2013, 0.5, 1e-3); /* 0.35 mrad: a point */
    check_close(found.distance, found.point, 1e-12, 0.0);
    check_close(found.extent, 1.0, 0.0, 0.0);
    const double most = BRV_PI * 2e-2 * 6e-3 * 6e-3 / (BRV_ALPHA_MIN * 5e-3); /* energy from which it is met at all */
    brv_hazard_scattered(&found, &ns_2013, 1.001 * most, 6e-3);
    check_close(found.distance, 1.001 * 6e-3 / 5e-3, 1e-9, 0.0);
    brv_hazard_scattered(&found, &ns_2013, 0.999 * most, 6e-3);
    check_close(found.distance, 0.0, 0.0, 0.0);
    assert_true(found.point > 1.0);
    brv_hazard_scattered(&found, &ns_2013, 0.0, 6e-3);
    check_close(found.distance, 0.0, 0.0, 0.0);
    check_close(found.point, 0.0, 0.0, 0.0);
}

static struct brv_scenario in_a_room(void)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = 1064e-9;
    ask.beam.spot = 6e-3;
    ask.beam.fluence = 3e4;
    ask.pulse.width = 7e-9;
    ask.room = (struct brv_room_ask){.beam = 5e-3, .lens = 100e-3, .distance = 2.0, .view = 0.5};
    sample_give(&ask.room, BRV_SCOPE_ROOM, "beam");
    sample_give(&ask.room, BRV_SCOPE_ROOM, "lens");
    sample_give(&ask.room, BRV_SCOPE_ROOM, "distance");
    sample_give(&ask.room, BRV_SCOPE_ROOM, "view");
    return ask;
}

static void solve(struct brv_hazard *hazard, struct brv_scenario *ask)
{
    brv_scenario_fill(ask);
    assert_int_equal(brv_scenario_check(ask, NULL, 0), 0);
    assert_int_equal(brv_hazard_solve(hazard, ask, NULL), BRV_OK);
}

/* Every number of a whole scenario, by hand from the rows and from the skin's own light. */
static void a_room(void **state)
{
    (void)state;
    struct brv_scenario ask = in_a_room();
    struct brv_hazard hazard;
    solve(&hazard, &ask);
    const struct brv_hazard_edition *one = &hazard.edition[BRV_ICNIRP_2013];
    const double energy = 3e4 * BRV_PI * 9e-6, back = hazard.reflectance.value * energy * cos(0.5);
    assert_true(one->asked && hazard.edition[BRV_EU_2006].asked);
    check_close(hazard.energy, energy, 1e-12, 0.0);
    check_close(one->exposure[BRV_EYE].limit, 2e-2, 1e-12, 0.0);
    check_close(one->density_spot, log10(3e4 / 2e-2), 1e-12, 0.0);
    check_close(one->density_pupil, log10(energy / (BRV_PI * 12.25e-6) / 2e-2), 1e-12, 0.0);
    check_close(one->density, one->density_spot, 0.0, 0.0); /* the spot is narrower than the pupil */
    check_close(one->pupil_energy, 7.697e-7, 1e-4, 0.0);
    check_close(one->beam, 0.1 / 5e-3 * sqrt(2.0) * sqrt(4.0 * energy / (BRV_PI * 2e-2)), 1e-12, 0.0);
    check_close(one->scattered.point, sqrt(back / (BRV_PI * 2e-2)), 1e-12, 0.0);
    check_close(one->skin_ratio, 30.0, 1e-12, 0.0);
    check_close(one->person, back / (BRV_PI * 4.0) / 2e-2, 1e-12, 0.0);
    const double angle = 6e-3 * cos(0.5) / 2.0;
    check_close(one->person_extent, one->person / (angle / BRV_ALPHA_MIN), 1e-12, 0.0);
    const double wide = 2.0 * 5e-3 / 0.1 / sqrt(2.0);
    check_close(one->person_beam, 4.0 * energy / (BRV_PI * wide * wide) / 2e-2, 1e-12, 0.0);
    check_close(one->lid_ratio, hazard.lid.passes.value * 3e4 / 2e-2, 1e-12, 0.0);
    struct brv_lid lid; /* the same skin over an eye */
    assert_int_equal(brv_lid_solve(&lid, &ask, NULL), BRV_OK);
    check_close(hazard.lid.passes.value, lid.passes.value, 0.0, 0.0);
    assert_true(lid.passes.value > 0.0);
    assert_true(hazard.reflectance.low < hazard.reflectance.value &&
                hazard.reflectance.value < hazard.reflectance.high);
    assert_true(one->least.point < one->scattered.point && one->scattered.point < one->most.point);
    check_close(hazard.mirrored, pow(0.4 / 2.4, 2.0), 1e-9, 0.0); /* air on index 1.4 */
}

/* A gaussian spot is as wide as its 1/e edges, for the eye as for the beam: 1/e2 edges would allow 1.41 times as much. */
static void a_gaussian_spot_is_narrower(void **state)
{
    (void)state;
    struct brv_scenario flat = in_a_room(), gaussian = in_a_room();
    struct brv_hazard one, two;
    gaussian.beam.profile = BRV_PROFILE_GAUSSIAN;
    sample_give(&gaussian.beam, BRV_SCOPE_LIGHT, "profile");
    solve(&one, &flat);
    solve(&two, &gaussian);
    const struct brv_hazard_edition *edition = &two.edition[BRV_EU_2006];
    const double angle = 6e-3 / sqrt(2.0) * cos(0.5) / 2.0; /* 1.86 mrad, more than 1.5 */
    assert_true(angle > BRV_ALPHA_MIN);
    check_close(two.energy, one.energy, 0.0, 0.0);
    check_close(edition->person, one.edition[BRV_EU_2006].person, 1e-12, 0.0);
    check_close(edition->person_extent, edition->person / (angle / BRV_ALPHA_MIN), 1e-12, 0.0);
    check_close(edition->scattered.angle * edition->scattered.distance, 2.0 * angle, 1e-12, 0.0);
}

/* A black film that may be gone after one pulse takes nothing from what reaches a person. */
static void a_film_is_no_shield(void **state)
{
    (void)state;
    struct brv_scenario clean = in_a_room(), black = in_a_room();
    struct brv_hazard one, two;
    black.film.thickness = 2e-6;
    black.film.absorption = 2e5;
    sample_give(&black.film, BRV_SCOPE_FILM, "thickness");
    sample_give(&black.film, BRV_SCOPE_FILM, "absorption");
    solve(&one, &clean);
    solve(&two, &black);
    assert_true(one.reflectance.value > 0.3);
    check_close(two.reflectance.value, one.reflectance.value, 0.0, 0.0);
    check_close(two.reflectance.high, one.reflectance.high, 0.0, 0.0);
    check_close(two.edition[BRV_EU_2006].person, one.edition[BRV_EU_2006].person, 0.0, 0.0);
}

static void what_a_scenario_changes(void **state)
{
    (void)state;
    struct brv_scenario ask = in_a_room();
    struct brv_hazard hazard;
    ask.room = (struct brv_room_ask){.edition = BRV_EDITION_EU_2006, .reflectance = 0.5};
    sample_give(&ask.room, BRV_SCOPE_ROOM, "edition");
    sample_give(&ask.room, BRV_SCOPE_ROOM, "reflectance");
    ask.pulse.width = 0.5e-9;
    ask.beam.profile = BRV_PROFILE_GAUSSIAN;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "profile");
    solve(&hazard, &ask);
    assert_true(hazard.edition[BRV_EU_2006].asked && !hazard.edition[BRV_ICNIRP_2013].asked);
    assert_false(hazard.edition[BRV_ICNIRP_2013].exposure[BRV_EYE].covered); /* and nothing is made up for it */
    check_close(hazard.edition[BRV_ICNIRP_2013].density, 0.0, 0.0, 0.0);
    check_close(hazard.reflectance.low, 0.5, 0.0, 0.0);
    check_close(hazard.fluence, 6e4, 1e-12, 0.0); /* twice energy / area on the axis */
    assert_true(isnan(hazard.edition[BRV_EU_2006].beam) && isnan(hazard.edition[BRV_EU_2006].person));
    check_close(hazard.edition[BRV_EU_2006].exposure[BRV_EYE].limit, 2.7e5 * pow(0.5e-9, 0.75), 1e-12, 0.0);
    check_close(hazard.edition[BRV_EU_2006].exposure[BRV_SKIN].limit, 500.0, 1e-12, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(density),
        cmocka_unit_test(along_a_beam),
        cmocka_unit_test(scattered_light),
        cmocka_unit_test(small_and_large_sources),
        cmocka_unit_test(a_room),
        cmocka_unit_test(what_a_scenario_changes),
        cmocka_unit_test(a_gaussian_spot_is_narrower),
        cmocka_unit_test(a_film_is_no_shield),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
