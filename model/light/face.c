#include "light/face.h"

#include "light/fresnel.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <string.h>

/* Gauss points over the cosine on the rarer side: the reflectance is smooth in it. With 32 all conditions have
 * converged to 1e-9 for indices from 1 to 2.5.                                                                  */
enum { N_POINT = 32 };

/* One direction on both sides of the face; weights are of the cosine. */
struct ray {
    double upper_cosine, upper_weight;
    double lower_cosine, lower_weight;
    double reflectance;
    double into_upper, into_lower; /* radiance handed over, per radiance that arrives from the other side */
};

void brv_face_join(struct brv_face *face, const struct brv_harmonics *shapes)
{
    memset(face, 0, sizeof *face);
    for (size_t i = 0; i < BRV_N_ODD; i++) {
        face->upper_odd[i * BRV_N_ODD + i] = 1.0;
        face->lower_odd[i * BRV_N_ODD + i] = -1.0;
        for (size_t j = 0; j < BRV_N_EVEN; j++) {
            face->upper_even[(BRV_N_ODD + i) * BRV_N_EVEN + j] = shapes->along[j * BRV_N_ODD + i];
            face->lower_even[(BRV_N_ODD + i) * BRV_N_EVEN + j] = -shapes->along[j * BRV_N_ODD + i];
        }
    }
}

/* Adds amount[parity of l + m] value(own)[o] value(of)[shape] to the rows of one condition; m is the same on both. */
static void add_products(double *rows_even, double *rows_odd, const struct brv_harmonics *shapes,
                         double own[BRV_N_DEGREE][BRV_N_DEGREE], double of[BRV_N_DEGREE][BRV_N_DEGREE],
                         double even_amount, double odd_amount)
{
    for (size_t m = 0; m <= BRV_LAST_DEGREE; m++)
        for (size_t test = m + 1; test <= BRV_LAST_DEGREE; test += 2) {
            const size_t row = shapes->place[test][m];
            for (size_t l = m; l <= BRV_LAST_DEGREE; l++) {
                const size_t column = shapes->place[l][m];
                const double product = own[test][m] * of[l][m];
                if ((l + m) % 2)
                    rows_odd[row * BRV_N_ODD + column] += odd_amount * product;
                else
                    rows_even[row * BRV_N_EVEN + column] += even_amount * product;
            }
        }
}

/* Shapes at +-mu are E +- O. Downwards below: (E + O) - R (E - O) = T (E_u + O_u); upwards above: (E - O) - R (E + O)
 * = T (E_l - O_l).                                                                                               */
static void add_ray(struct brv_face *face, const struct brv_harmonics *shapes, const struct ray *ray)
{
    double upper[BRV_N_DEGREE][BRV_N_DEGREE] = {{0}}, lower[BRV_N_DEGREE][BRV_N_DEGREE] = {{0}};
    const size_t even_half = BRV_N_ODD * BRV_N_EVEN, odd_half = BRV_N_ODD * BRV_N_ODD;
    const double kept = 1.0 - ray->reflectance, doubled = 1.0 + ray->reflectance;
    const double down = ray->into_lower * ray->lower_weight, up = ray->into_upper * ray->upper_weight;
    brv_harmonics_values(upper, ray->upper_cosine);
    brv_harmonics_values(lower, ray->lower_cosine);
    add_products(face->lower_even, face->lower_odd, shapes, lower, lower, kept * ray->lower_weight,
                 doubled * ray->lower_weight);
    add_products(face->upper_even, face->upper_odd, shapes, lower, upper, -down, -down);
    add_products(face->upper_even + even_half, face->upper_odd + odd_half, shapes, upper, upper,
                 kept * ray->upper_weight, -doubled * ray->upper_weight);
    add_products(face->lower_even + even_half, face->lower_odd + odd_half, shapes, upper, lower, -up, up);
}

/* n^2 mu dmu is the same on both sides. */
static struct ray refracted(double cosine, double weight, double upper_index, double lower_index)
{
    struct ray ray = {.upper_cosine = cosine, .upper_weight = weight, .lower_cosine = cosine, .lower_weight = weight};
    if (upper_index < lower_index) {
        const double ratio = upper_index / lower_index;
        ray.lower_cosine = brv_fresnel_cosine(upper_index, cosine, lower_index);
        ray.lower_weight = weight * ratio * ratio * cosine / ray.lower_cosine;
    } else if (lower_index < upper_index) {
        const double ratio = lower_index / upper_index;
        ray.upper_cosine = brv_fresnel_cosine(lower_index, cosine, upper_index);
        ray.upper_weight = weight * ratio * ratio * cosine / ray.upper_cosine;
    }
    const double square = lower_index * lower_index / (upper_index * upper_index);
    ray.reflectance = brv_fresnel_reflectance(upper_index, ray.upper_cosine, lower_index, ray.lower_cosine);
    ray.into_lower = (1.0 - ray.reflectance) * square;
    ray.into_upper = (1.0 - ray.reflectance) / square;
    return ray;
}

/* Beyond the critical angle, on the denser side alone. */
static struct ray trapped(double cosine, double weight, double upper_index, double lower_index)
{
    struct ray ray = {.reflectance = 1.0};
    if (upper_index > lower_index) {
        ray.upper_cosine = cosine;
        ray.upper_weight = weight;
    } else {
        ray.lower_cosine = cosine;
        ray.lower_weight = weight;
    }
    return ray;
}

brv_status brv_face_step(struct brv_face *face, const struct brv_harmonics *shapes, double upper_index,
                         double lower_index, struct brv_error *error)
{
    memset(face, 0, sizeof *face);
    gsl_integration_glfixed_table *gauss = gsl_integration_glfixed_table_alloc(N_POINT);
    if (!gauss) return brv_error_raise(error, BRV_MEMORY, "brv_face_step");
    const double ratio = fmin(upper_index, lower_index) / fmax(upper_index, lower_index);
    const double critical = sqrt((1.0 - ratio) * (1.0 + ratio));
    for (size_t i = 0; i < N_POINT; i++) {
        double cosine, weight;
        gsl_integration_glfixed_point(0.0, 1.0, i, &cosine, &weight, gauss);
        struct ray ray = refracted(cosine, weight, upper_index, lower_index);
        add_ray(face, shapes, &ray);
        ray = trapped(critical * cosine, critical * weight, upper_index, lower_index);
        if (critical > 0.0) add_ray(face, shapes, &ray);
    }
    gsl_integration_glfixed_table_free(gauss);
    return BRV_OK;
}
