#include "light/rays.h"

#include "base/array.h"
#include "base/constants.h"
#include "light/fresnel.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LEAST_RAYS = 3 }; /* in one interval; fewer cannot follow the fall of Fresnel's curve to a critical angle */

static int ascending(const void *left, const void *right)
{
    const double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Sorts in place and drops repeats; returns how many are left. */
static size_t sort_distinct(double *value, size_t n)
{
    qsort(value, n, sizeof *value, ascending);
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || value[i] > value[kept - 1]) value[kept++] = value[i];
    return kept;
}

/* Cosine, in the medium of index edge[k], of the steepest ray that the next lower index can no longer hold. */
static double widest_cosine(const double *edge, size_t k)
{
    return k == 0 ? 1.0 : sqrt((1.0 - edge[k - 1] / edge[k]) * (1.0 + edge[k - 1] / edge[k]));
}

/* Share of an interval, by the range of angle it covers in the densest medium. */
static size_t share_of_rays(const double *edge, size_t n_edge, size_t k, size_t n_ray)
{
    const double dense = edge[n_edge - 1];
    const double grazing = acos(brv_fresnel_cosine(edge[k], 0.0, dense));
    const double steepest = acos(brv_fresnel_cosine(edge[k], widest_cosine(edge, k), dense));
    const double share = round((grazing - steepest) / (0.5 * BRV_PI) * (double)n_ray);
    return share > LEAST_RAYS ? (size_t)share : LEAST_RAYS;
}

static size_t count_rays(const double *edge, size_t n_edge, size_t n_ray)
{
    size_t count = 0;
    for (size_t k = 0; k < n_edge; k++) count += share_of_rays(edge, n_edge, k, n_ray);
    return count;
}

static brv_status append_interval(struct brv_rays *rays, double index, double widest, size_t count,
                                  struct brv_error *error)
{
    gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc(count);
    if (!table) return brv_error_raise(error, BRV_MEMORY, "brv_rays_build");
    for (size_t i = 0; i < count; i++, rays->n++) {
        double cosine, weight;
        gsl_integration_glfixed_point(0.0, widest, i, &cosine, &weight, table);
        rays->index[rays->n] = index;
        rays->cosine[rays->n] = cosine;
        rays->strength[rays->n] = index * sqrt(weight * cosine);
    }
    gsl_integration_glfixed_table_free(table);
    return BRV_OK;
}

static brv_status fill(struct brv_rays *rays, const double *edge, size_t n_edge, size_t n_ray, struct brv_error *error)
{
    const size_t count = count_rays(edge, n_edge, n_ray);
    rays->index = brv_array_new(count);
    rays->cosine = brv_array_new(count);
    rays->strength = brv_array_new(count);
    if (!rays->index || !rays->cosine || !rays->strength) return brv_error_raise(error, BRV_MEMORY, "brv_rays_build");

    brv_status status = BRV_OK;
    for (size_t k = 0; k < n_edge && !status; k++)
        status = append_interval(rays, edge[k], widest_cosine(edge, k), share_of_rays(edge, n_edge, k, n_ray), error);
    return status;
}

brv_status brv_rays_build(struct brv_rays *rays, const double *index, size_t n_index, size_t n_ray,
                          struct brv_error *error)
{
    double *edge = brv_array_new(n_index);
    if (!edge) return brv_error_raise(error, BRV_MEMORY, "brv_rays_build");
    memcpy(edge, index, n_index * sizeof *edge);
    const size_t n_edge = sort_distinct(edge, n_index);

    const brv_status status = fill(rays, edge, n_edge, n_ray, error);
    free(edge);
    if (status) brv_rays_free(rays);
    return status;
}

size_t brv_rays_present(const struct brv_rays *rays, double index)
{
    size_t count = 0;
    while (count < rays->n && rays->index[count] <= index) count++;
    return count;
}

double brv_rays_cosine(const struct brv_rays *rays, size_t ray, double index)
{
    if (rays->index[ray] > index) return 0.0;
    return brv_fresnel_cosine(rays->index[ray], rays->cosine[ray], index);
}

void brv_rays_free(struct brv_rays *rays)
{
    free(rays->index);
    free(rays->cosine);
    free(rays->strength);
    *rays = (struct brv_rays){0};
}
