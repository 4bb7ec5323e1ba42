/* Low and high of a run, from two more solves of the light, against runs with such grains. */
#include "base/constants.h"
#include "light/light_sensitivity.h"
#include "run/site.h"
#include "support/check.h"
#include "support/sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void solve(struct brv_site *site, const struct brv_scenario *ask, enum brv_detail detail)
{
    struct brv_error error = {.place = ""};
    assert_int_equal(brv_scenario_check(ask, NULL, 0), 0);
    if (brv_site_solve(site, ask, BRV_LESION, detail, NULL, &error)) fail_msg("%s: %g", error.place, error.found);
}

struct skin_case {
    const char *name;
    double wavelength, pulse;
    double basal; /* pigment of the light skin's basal row; 0: the ready dark skin */
};

static struct brv_scenario skin_of(const struct skin_case *skin, double darkness)
{
    struct brv_scenario ask = sample_scenario();
    ask.beam.wavelength = skin->wavelength;
    ask.pulse.width = skin->pulse;
    if (skin->pulse < 1e-6) ask.beam.method = BRV_METHOD_SPOT; /* both kernels are seen */
    if (skin->basal > 0.0)
        sample_set(&ask, BRV_SCOPE_LAYER, 1, "melanosomes", skin->basal);
    else
        for (size_t site = 0; site < BRV_N_SITE; site++) brv_skin_preset(&ask.skin[site], BRV_DARK_SKIN);
    sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness", darkness);
    brv_scenario_fill(&ask);
    return ask;
}

/* Largest deviations: of grain and layer and of the light, of the dermis, of a sign, of the surface. */
struct apart {
    double grain, dermis, sign, surface;
};

static void widen(double *apart, double bracket, double run)
{
    *apart = fmax(*apart, fabs(bracket / run - 1.0));
}

/* Low and high against the least and most of three runs: as it is, paler, darker. */
static void hold(double *apart, const struct brv_spread *spread, double own, double paler, double darker)
{
    widen(apart, spread->low, fmin(own, fmin(paler, darker)));
    widen(apart, spread->high, fmax(own, fmax(paler, darker)));
}

static struct apart apart_of(const struct skin_case *skin)
{
    struct brv_site own, other[2];
    struct apart apart = {0.0, 0.0, 0.0, 0.0};
    const double darkness[2] = {BRV_DARKNESS_LOW, BRV_DARKNESS_HIGH};
    const struct brv_scenario ask = skin_of(skin, 1.0);
    solve(&own, &ask, BRV_WITH_SPREADS);
    for (size_t k = 0; k < 2; k++) {
        const struct brv_scenario there = skin_of(skin, darkness[k]);
        solve(&other[k], &there, BRV_VALUES_ONLY);
        widen(&apart.grain, brv_light_answer(&own.light, k, 0.3e-3) * brv_light_fluence(&own.light, 0.3e-3),
              brv_light_fluence(&other[k].light, 0.3e-3));
    }
    const struct brv_effect *a = &own.effect, *pale = &other[0].effect, *dark = &other[1].effect;
    for (size_t probe = BRV_PROBE_MEAN; probe <= BRV_PROBE_LAYER; probe++)
        hold(&apart.grain, &a->peak[probe], a->peak[probe].value, pale->peak[probe].value, dark->peak[probe].value);
    hold(&apart.grain, &a->threshold_grain, a->threshold_grain.value, pale->threshold_grain.value,
         dark->threshold_grain.value);
    for (size_t mark = 0; mark < BRV_N_MARK; mark++)
        hold(&apart.dermis, &a->dermis[mark].first, a->dermis[mark].first.value, pale->dermis[mark].first.value,
             dark->dermis[mark].first.value);
    const size_t surface = BRV_N_GRAIN_PROBE;
    hold(&apart.surface, &a->peak[surface], a->peak[surface].value, pale->peak[surface].value,
         dark->peak[surface].value);
    widen(&apart.sign, a->crowd.threshold_sign.low, dark->crowd.threshold_sign.low);
    widen(&apart.sign, a->crowd.threshold_sign.high, pale->crowd.threshold_sign.high);
    for (size_t k = 0; k < 2; k++) brv_site_free(&other[k]);
    brv_site_free(&own);
    return apart;
}

static void brackets_are_runs(void **state)
{
    (void)state;
    static const struct skin_case skin[] = {
        {"532 nm, 14 % basal pigment, 7 ns", 532e-9, 7e-9, 0.14},
        {"694 nm, 14 %, 7 ns", 694e-9, 7e-9, 0.14},
        {"1064 nm, 14 %, 7 ns", 1064e-9, 7e-9, 0.14},
        {"532 nm, 35 %, 7 ns", 532e-9, 7e-9, 0.35},
        {"1064 nm, 35 %, 7 ns", 1064e-9, 7e-9, 0.35},
        {"532 nm, dark skin, 7 ns", 532e-9, 7e-9, 0.0},
        {"1064 nm, dark skin, 7 ns", 1064e-9, 7e-9, 0.0},
        {"532 nm, 14 %, 1 ms", 532e-9, 1e-3, 0.14},
        {"532 nm, 35 %, 1 ms", 532e-9, 1e-3, 0.35},
        {"694 nm, dark skin, 1 ms", 694e-9, 1e-3, 0.0},
        {"450 nm, dark skin, 7 ns", 450e-9, 7e-9, 0.0}, /* warm from above and from below where it is read */
        {"400 nm, 60 %, 7 ns", 400e-9, 7e-9, 0.6},
    };
    for (size_t i = 0; i < sizeof skin / sizeof *skin; i++) {
        char what[120];
        const struct apart apart = apart_of(&skin[i]);
        snprintf(what, sizeof what, "low and high, %s: grain, layer, light", skin[i].name);
        check_row(what, "own runs (computed)", 1.0 + apart.grain, 1.0, 0.01, "1 %, as claimed");
        check_row("  the same: rise at 0.3 and 1 mm", "own runs (computed)", 1.0 + apart.dermis, 1.0, 0.02,
                  "2 %, as claimed");
        check_row("  the same: threshold of a sign", "own runs (computed)", 1.0 + apart.sign, 1.0, 0.06,
                  "6 %, as claimed");
        check_row("  the same: rise of the surface", "own runs (computed)", 1.0 + apart.surface, 1.0, 0.02,
                  "2 %, as claimed");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(brackets_are_runs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
