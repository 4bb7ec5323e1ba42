#include "light/interior.h"

#include "base/array.h"
#include "light/decay.h"

#include <math.h>
#include <stdlib.h>

static brv_status allocate(struct brv_interior *interior, struct brv_error *error)
{
    double **array[] = {&interior->fluence_of, &interior->flux_of,    &interior->eta_above,
                        &interior->eta_below,  &interior->zeta_above, &interior->zeta_below};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) {
        *array[i] = brv_array_new(interior->n);
        if (!*array[i]) return brv_error_raise(error, BRV_MEMORY, "brv_interior_build");
    }
    return BRV_OK;
}

static void weigh_modes(struct brv_interior *interior, const struct brv_rays *rays, const struct brv_basis *basis,
                        const struct brv_modes *modes)
{
    const size_t n = interior->n;
    for (size_t ray = 0; ray < n; ray++)
        for (size_t mode = 0; mode < n; mode++) {
            const double strength = rays->strength[ray];
            interior->fluence_of[mode] += strength / basis->cosine[ray] * modes->sum[ray * n + mode];
            interior->flux_of[mode] += strength * modes->difference[ray * n + mode];
        }
}

/* eta = Q^T p and zeta = P^T q at one face, less the glow. */
static void take_face(double *eta, double *zeta, const struct brv_interior *interior, const struct brv_modes *modes,
                      const struct brv_interior_face *face, double t)
{
    const size_t n = interior->n;
    for (size_t ray = 0; ray < n; ray++)
        for (size_t mode = 0; mode < n; mode++) {
            eta[mode] += modes->difference[ray * n + mode] * (face->down[ray] + face->up[ray]);
            zeta[mode] += modes->sum[ray * n + mode] * (face->down[ray] - face->up[ray]);
        }
    for (size_t mode = 0; mode < n; mode++) {
        eta[mode] -= brv_glow_eta(&interior->glow, mode, t);
        zeta[mode] -= brv_glow_zeta(&interior->glow, mode, t);
    }
}

brv_status brv_interior_build(struct brv_interior *interior, const struct brv_rays *rays, const struct brv_basis *basis,
                              const struct brv_modes *modes, struct brv_glow *glow, const struct brv_direct_leg *leg,
                              const struct brv_interior_face *above, const struct brv_interior_face *below,
                              struct brv_error *error)
{
    *interior = (struct brv_interior){.n = modes->n, .leg = *leg, .glow = *glow};
    *glow = (struct brv_glow){0};
    const brv_status status = allocate(interior, error);
    if (status) {
        brv_interior_free(interior);
        return status;
    }
    weigh_modes(interior, rays, basis, modes);
    take_face(interior->eta_above, interior->zeta_above, interior, modes, above, 0.0);
    take_face(interior->eta_below, interior->zeta_below, interior, modes, below, leg->depth);
    return BRV_OK;
}

/* A solution of y'' = k^2 y between its values at the faces. */
static double between_faces(const struct brv_interior *interior, size_t mode, double above, double below, double t)
{
    const double k = interior->glow.decay[mode], rest = interior->leg.depth - t;
    return above * brv_decay_share(k, t, rest) + below * brv_decay_share(k, rest, t);
}

double brv_interior_fluence(const struct brv_interior *interior, double t)
{
    const struct brv_direct_leg *leg = &interior->leg;
    double sum = 0.0;
    for (size_t mode = 0; mode < interior->n; mode++) {
        const double eta = brv_glow_eta(&interior->glow, mode, t) +
                           between_faces(interior, mode, interior->eta_above[mode], interior->eta_below[mode], t);
        sum += interior->fluence_of[mode] * eta;
    }
    if (leg->cosine > 0.0) sum += (brv_direct_down(leg, t) + brv_direct_up(leg, t)) / leg->cosine;
    return sum;
}

double brv_interior_net_flux(const struct brv_interior *interior, double t)
{
    double sum = brv_direct_down(&interior->leg, t) - brv_direct_up(&interior->leg, t);
    for (size_t mode = 0; mode < interior->n; mode++) {
        const double zeta = brv_glow_zeta(&interior->glow, mode, t) +
                            between_faces(interior, mode, interior->zeta_above[mode], interior->zeta_below[mode], t);
        sum += interior->flux_of[mode] * zeta;
    }
    return sum;
}

double brv_interior_integral(const struct brv_interior *interior)
{
    const struct brv_direct_leg *leg = &interior->leg;
    double sum = 0.0;
    for (size_t mode = 0; mode < interior->n; mode++) {
        const double both = interior->eta_above[mode] + interior->eta_below[mode];
        const double share = brv_decay_share_integral(interior->glow.decay[mode], leg->depth);
        sum += interior->fluence_of[mode] * (both * share + brv_glow_integral(&interior->glow, mode));
    }
    if (leg->cosine > 0.0) sum += (leg->down + leg->up) * -expm1(-leg->depth / leg->cosine);
    return sum;
}

void brv_interior_free(struct brv_interior *interior)
{
    free(interior->fluence_of);
    free(interior->flux_of);
    free(interior->eta_above);
    free(interior->eta_below);
    free(interior->zeta_above);
    free(interior->zeta_below);
    brv_glow_free(&interior->glow);
    *interior = (struct brv_interior){0};
}
