#include "heat/cooling.h"

#include "heat/stepper.h"

#include <math.h>

#define TOLERANCE  1e-6
#define FIRST_TIME 1e-4 /* of radius^2 / diffusivity */
#define RATIO      1.02 /* between times looked at; the crossing is interpolated in between */
#define LAST_TIME  10.0

struct watch {
    double level;  /* 1/2 or 1/e */
    int mean;      /* watch the mean instead of the centre */
    double *found; /* [s]; NAN until then */
    double before; /* share at the last time looked at */
};

static double share_left(const struct brv_sphere *sphere, int mean, double fraction)
{
    const double value = mean ? brv_sphere_grain_mean(sphere) : brv_chain_read(&sphere->chain, &sphere->centre);
    return fraction < 1.0 ? (value - fraction) / (1.0 - fraction) : value;
}

static void look(struct watch *watch, double share, double before, double now)
{
    if (isnan(*watch->found) && share <= watch->level)
        *watch->found = before + (now - before) * (watch->before - watch->level) / (watch->before - share);
    watch->before = share;
}

/* Where the cell's mean ends up when the grain starts at 1; nothing in an unbounded medium. */
static double final_mean(const struct brv_sphere *sphere, const struct brv_sphere_ask *ask)
{
    return isfinite(ask->cell_radius) ? brv_sphere_cell_mean(sphere) : 0.0;
}

static brv_status cool(struct watch watch[4], struct brv_sphere *sphere, struct brv_stepper *stepper,
                       const struct brv_sphere_ask *ask, struct brv_error *error)
{
    static const struct brv_source none = {0};
    const double slower =
        fmax(ask->host_heat_capacity / ask->host_conductivity, ask->heat_capacity / ask->conductivity);
    const double scale = ask->radius * ask->radius * slower;
    const double base = final_mean(sphere, ask);
    double before = 0.0;
    for (double now = FIRST_TIME * scale; now < LAST_TIME * scale; now *= RATIO) {
        const brv_status status = brv_stepper_advance(stepper, &sphere->chain, &none, before, now, TOLERANCE, error);
        if (status) return status;
        for (size_t i = 0; i < 4; i++) look(&watch[i], share_left(sphere, watch[i].mean, base), before, now);
        before = now;
    }
    return BRV_OK;
}

brv_status brv_cooling_measure(struct brv_cooling *cooling, const struct brv_sphere_ask *ask, struct brv_error *error)
{
    struct brv_sphere sphere;
    struct brv_stepper stepper;
    const double unknown = (double)NAN;
    *cooling = (struct brv_cooling){unknown, unknown, unknown, unknown};
    struct watch watch[4] = {{0.5, 0, &cooling->centre_half, 1.0},
                             {exp(-1.0), 0, &cooling->centre_efold, 1.0},
                             {0.5, 1, &cooling->mean_half, 1.0},
                             {exp(-1.0), 1, &cooling->mean_efold, 1.0}};

    brv_status status = brv_sphere_build(&sphere, ask, error);
    if (status) return status;
    status = brv_stepper_build(&stepper, sphere.chain.n, error);
    if (!status) {
        for (size_t i = 0; i < sphere.n_grain; i++) sphere.chain.rise[i] = 1.0;
        status = cool(watch, &sphere, &stepper, ask, error);
        brv_stepper_free(&stepper);
    }
    brv_sphere_free(&sphere);
    return status;
}
