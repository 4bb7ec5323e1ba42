#include "light/glow.h"

#include "base/array.h"
#include "light/decay.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* even[ray], odd[ray]: what the beam adds to q' and p' per unit fluence, before the projection on modes. */
static void scatter_beam(double *even, double *odd, const struct brv_basis *basis, const struct brv_modes *modes,
                         double cosine)
{
    const size_t n = basis->n;
    double before = 0.0, now = 1.0;
    for (size_t order = 0; order < 2 * n; order++) {
        const double l = (double)order;
        const double amount = (1.0 - modes->loss[order]) * sqrt(2.0 * l + 1.0) * now / (basis->index * basis->norm);
        const double *shapes = order % 2 ? basis->odd : basis->even;
        double *sum = order % 2 ? odd : even;
        for (size_t ray = 0; ray < n; ray++) sum[ray] += amount * shapes[ray * n + order / 2];
        const double next = ((2.0 * l + 1.0) * cosine * now - l * before) / (l + 1.0);
        before = now;
        now = next;
    }
    for (size_t ray = 0; ray < n; ray++) {
        even[ray] /= sqrt(basis->cosine[ray]);
        odd[ray] /= sqrt(basis->cosine[ray]);
    }
}

static double column_product(const double *matrix, size_t column, const double *vector, size_t n)
{
    double sum = 0.0;
    for (size_t row = 0; row < n; row++) sum += matrix[row * n + column] * vector[row];
    return sum;
}

static void project(struct brv_glow *glow, const struct brv_modes *modes, const double *even, const double *odd)
{
    for (size_t mode = 0; mode < glow->n; mode++) {
        const double k = glow->decay[mode];
        const double even_mode = column_product(modes->sum, mode, even, glow->n);
        const double odd_mode = column_product(modes->difference, mode, odd, glow->n);
        glow->rise[mode] = (even_mode + glow->slope * odd_mode) / (k + glow->slope);
        glow->start[mode] = (k * odd_mode - even_mode) / (k + glow->slope);
    }
}

static void kindle(struct brv_glow *glow, const struct brv_basis *basis, const struct brv_modes *modes,
                   const struct brv_direct_leg *leg, double *work)
{
    glow->slope = 1.0 / leg->cosine;
    glow->down = leg->down * glow->slope;
    glow->up = leg->up * glow->slope;
    scatter_beam(work, work + glow->n, basis, modes, leg->cosine);
    project(glow, modes, work, work + glow->n);
}

static bool allocate(struct brv_glow *glow)
{
    glow->decay = brv_array_new(glow->n);
    glow->rise = brv_array_new(glow->n);
    glow->start = brv_array_new(glow->n);
    return glow->decay && glow->rise && glow->start;
}

brv_status brv_glow_build(struct brv_glow *glow, const struct brv_basis *basis, const struct brv_modes *modes,
                          const struct brv_direct_leg *leg, struct brv_error *error)
{
    *glow = (struct brv_glow){.n = basis->n, .depth = leg->depth};
    double *work = brv_array_new(2 * basis->n);
    if (!allocate(glow) || !work) {
        free(work);
        brv_glow_free(glow);
        return brv_error_raise(error, BRV_MEMORY, "brv_glow_build");
    }
    memcpy(glow->decay, modes->decay, glow->n * sizeof *glow->decay);
    if (leg->cosine > 0.0) kindle(glow, basis, modes, leg, work);
    free(work);
    return BRV_OK;
}

/* eta and zeta of a beam of unit fluence at its starting face, at this distance from that face. */
static double unit_eta(const struct brv_glow *glow, size_t mode, double distance)
{
    return glow->rise[mode] * brv_decay_between(glow->slope, glow->decay[mode], distance);
}

static double unit_zeta(const struct brv_glow *glow, size_t mode, double distance)
{
    return glow->decay[mode] * unit_eta(glow, mode, distance) + glow->start[mode] * exp(-glow->slope * distance);
}

double brv_glow_eta(const struct brv_glow *glow, size_t mode, double t)
{
    double sum = 0.0;
    if (glow->down > 0.0) sum += glow->down * unit_eta(glow, mode, t);
    if (glow->up > 0.0) sum += glow->up * unit_eta(glow, mode, glow->depth - t);
    return sum;
}

double brv_glow_zeta(const struct brv_glow *glow, size_t mode, double t)
{
    double sum = 0.0;
    if (glow->down > 0.0) sum += glow->down * unit_zeta(glow, mode, t);
    if (glow->up > 0.0) sum -= glow->up * unit_zeta(glow, mode, glow->depth - t);
    return sum;
}

double brv_glow_integral(const struct brv_glow *glow, size_t mode)
{
    const double both = glow->down + glow->up;
    if (both == 0.0) return 0.0;
    return both * glow->rise[mode] * brv_decay_between_integral(glow->slope, glow->decay[mode], glow->depth);
}

void brv_glow_free(struct brv_glow *glow)
{
    free(glow->decay);
    free(glow->rise);
    free(glow->start);
    *glow = (struct brv_glow){0};
}
