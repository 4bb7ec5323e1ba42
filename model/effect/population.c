#include "effect/population.h"

#include "base/constants.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_spline.h>

#include <math.h>
#include <string.h>

#define FIRST_LN (-5.0) /* of the darknesses; the widest spread allowed has 4 standard deviations above -4.5 ... */
#define STEP_LN  0.25   /* ... and below 3.5 */
#define NONE_LN  8.0    /* ln of a darkness that no grain has */
#define EVERY_LN (-12.0)
#define ALIKE    0.05 /* spread of grains said to be equally dark but not equally large: their sizes come in steps */

static double fine_size(const struct brv_population *population, size_t j)
{
    const double first = population->size[0], last = population->size[population->n_size - 1];
    return population->n_fine > 1 ? first + (last - first) * (double)j / (double)(population->n_fine - 1) : first;
}

static double normal(double z)
{
    return exp(-0.5 * z * z);
}

/* By volume z is normal about 3 sigma. */
static void lay_weights(struct brv_population *population)
{
    const double lean = 3.0 * population->diameter_spread;
    double number = 0.0, volume = 0.0;
    for (size_t j = 0; j < population->n_fine; j++) {
        number += population->number[j] = normal(fine_size(population, j));
        volume += population->volume[j] = normal(fine_size(population, j) - lean);
    }
    for (size_t j = 0; j < population->n_fine; j++) {
        population->number[j] /= number;
        population->volume[j] /= volume;
    }
}

/* A spline is linear in its values: it is made once for each of them alone, and asked for no memory ever after. */
static int lay_parts(struct brv_population *population, gsl_spline *spline)
{
    int fault = 0;
    for (size_t i = 0; i < population->n_size && !fault; i++) {
        double alone[BRV_MOST_POPULATION_SIZES] = {0.0};
        alone[i] = 1.0;
        fault = gsl_spline_init(spline, population->size, alone, population->n_size);
        for (size_t j = 0; j < population->n_fine && !fault; j++)
            population->part[j][i] = gsl_spline_eval(spline, fine_size(population, j), NULL);
    }
    return fault;
}

brv_status brv_population_build(struct brv_population *population, double darkness_spread, double diameter_spread,
                                size_t n_size, const double size[], struct brv_error *error)
{
    *population = (struct brv_population){.darkness_spread = darkness_spread,
                                          .diameter_spread = diameter_spread,
                                          .n_size = n_size,
                                          .n_fine = n_size > 1 ? BRV_N_FINE : 1};
    memcpy(population->size, size, n_size * sizeof *size);
    lay_weights(population);
    population->part[0][0] = 1.0;
    if (n_size == 1) return BRV_OK;
    gsl_spline *spline = gsl_spline_alloc(gsl_interp_cspline, n_size);
    const int fault = spline ? lay_parts(population, spline) : GSL_ENOMEM;
    gsl_spline_free(spline);
    return fault ? brv_error_raise(error, BRV_MEMORY, "population") : BRV_OK;
}

double brv_population_darkness(size_t k)
{
    return exp(FIRST_LN + STEP_LN * (double)k);
}

void brv_population_refine(double fine[], const struct brv_population *population, const double coarse[])
{
    for (size_t j = 0; j < population->n_fine; j++) {
        double *here = fine + j * BRV_N_DARKNESS;
        for (size_t k = 0; k < BRV_N_DARKNESS; k++) {
            double sum = 0.0;
            for (size_t i = 0; i < population->n_size; i++)
                sum += population->part[j][i] * coarse[i * BRV_N_DARKNESS + k];
            here[k] = fmax(sum, k > 0 ? here[k - 1] : 0.0); /* what hardly warms is rounding */
        }
    }
}

/* Between two darknesses nearness is straight against what a grain takes up, and that is a power of the darkness. */
double brv_population_critical(const double nearness[BRV_N_DARKNESS], const double uptake[BRV_N_DARKNESS],
                               double fluence)
{
    const double wanted = 1.0 / fluence;
    size_t k = 0;
    while (k < BRV_N_DARKNESS && nearness[k] < wanted) k++;
    if (k == 0) return EVERY_LN;
    if (k == BRV_N_DARKNESS) return NONE_LN;
    const double way = (wanted - nearness[k - 1]) / (nearness[k] - nearness[k - 1]);
    const double taken = uptake[k - 1] + way * (uptake[k] - uptake[k - 1]);
    const double more = log(uptake[k] / uptake[k - 1]); /* a grain that takes up all there is takes up no more */
    const double share = more > 0.0 ? log(taken / uptake[k - 1]) / more : way;
    return FIRST_LN + STEP_LN * ((double)(k - 1) + share);
}

static double sigma_of(const struct brv_population *population)
{
    return fmax(population->darkness_spread, population->n_fine > 1 ? ALIKE : 0.0);
}

/* The normal tail beyond ln, `lean` standard deviations from the middle. */
static double beyond(double ln, double sigma, double lean)
{
    if (!(sigma > 0.0)) return ln <= 0.0 ? 1.0 : 0.0;
    return 0.5 * erfc((ln / sigma + lean) * BRV_ROOT_HALF);
}

double brv_population_darker(const struct brv_population *population, double ln)
{
    const double sigma = sigma_of(population);
    return beyond(ln, sigma, 0.5 * sigma);
}

double brv_population_blackness(const struct brv_population *population, double ln)
{
    const double sigma = sigma_of(population);
    return beyond(ln, sigma, -0.5 * sigma);
}

struct brv_shares brv_population_disrupted(const struct brv_population *population, const double nearness[],
                                           const double uptake[], double fluence)
{
    struct brv_shares sum = {0.0, 0.0};
    for (size_t j = 0; j < population->n_fine; j++) {
        const size_t first = j * BRV_N_DARKNESS;
        const double share =
            brv_population_darker(population, brv_population_critical(nearness + first, uptake + first, fluence));
        sum.number += population->number[j] * share;
        sum.volume += population->volume[j] * share;
    }
    return sum;
}
