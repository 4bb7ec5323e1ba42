#include "light/direct.h"

#include "light/fresnel.h"

#include <assert.h>
#include <math.h>

enum { MOST_LEGS = 64 };

static double attenuation(double depth, double cosine)
{
    return cosine > 0.0 ? exp(-depth / cosine) : 0.0;
}

double brv_direct_down(const struct brv_direct_leg *leg, double depth)
{
    return leg->down * attenuation(depth, leg->cosine);
}

double brv_direct_up(const struct brv_direct_leg *leg, double depth)
{
    return leg->up > 0.0 ? leg->up * attenuation(leg->depth - depth, leg->cosine) : 0.0;
}

/* Reflectance of a step with something reflecting below it. */
static double reflectance_onto(double step, double below)
{
    return step + (1.0 - step) * (1.0 - step) * below / (1.0 - step * below);
}

/* Share of the light that comes down on such a step and goes on downwards below it. */
static double passage_onto(double step, double below)
{
    return (1.0 - step) / (1.0 - step * below);
}

/* The angle follows from outside directly; below a total reflection there is no beam, whatever the index.
 * step[i]: mirror reflectance of the upper face of leg i; step[n_leg]: of the bottom. */
static void refract(struct brv_direct_leg *leg, size_t n_leg, double outside_index, double below_index, double cosine,
                    double *step)
{
    double index = outside_index, above = cosine;
    for (size_t i = 0; i < n_leg; i++) {
        leg[i].cosine = above > 0.0 ? brv_fresnel_cosine(outside_index, cosine, leg[i].index) : 0.0;
        step[i] = brv_fresnel_reflectance(index, above, leg[i].index, leg[i].cosine);
        index = leg[i].index;
        above = leg[i].cosine;
    }
    step[n_leg] =
        brv_fresnel_reflectance(index, above, below_index, brv_fresnel_cosine(outside_index, cosine, below_index));
}

struct brv_direct brv_direct_trace(struct brv_direct_leg *leg, size_t n_leg, double outside_index, double below_index,
                                   double cosine)
{
    double step[MOST_LEGS + 1];
    double seen[MOST_LEGS + 1]; /* seen[i]: reflectance of all that lies below the upper face of leg i */
    assert(n_leg <= MOST_LEGS);
    refract(leg, n_leg, outside_index, below_index, cosine, step);

    seen[n_leg] = 0.0;
    for (size_t i = n_leg; i-- > 0;) {
        const double pass = attenuation(leg[i].depth, leg[i].cosine);
        seen[i] = pass * pass * reflectance_onto(step[i + 1], seen[i + 1]);
    }

    double flux = 1.0;
    for (size_t i = 0; i < n_leg; i++) {
        leg[i].down = flux * passage_onto(step[i], seen[i]);
        flux = leg[i].down * attenuation(leg[i].depth, leg[i].cosine);
        leg[i].up = flux * reflectance_onto(step[i + 1], seen[i + 1]);
    }
    return (struct brv_direct){.mirrored = step[0],
                               .returned = (1.0 - step[0]) * seen[0] * leg[0].down,
                               .transmitted = flux * passage_onto(step[n_leg], 0.0)};
}
