#include "effect/vessel.h"

#include "base/constants.h"

#include <gsl/gsl_integration.h>
#include <math.h>

#define NODES 48

static double seen(const gsl_integration_glfixed_table *nodes, double x)
{
    double sum = 0.0;
    for (size_t i = 0; i < NODES; i++) {
        double theta, weight;
        gsl_integration_glfixed_point(0.0, 0.5 * BRV_PI, i, &theta, &weight, nodes);
        double ring = 0.0;
        for (size_t j = 0; j < NODES; j++) {
            double psi, share;
            gsl_integration_glfixed_point(0.0, 0.5 * BRV_PI, j, &psi, &share, nodes);
            ring -= share * cos(psi) * expm1(-x * cos(psi) / sin(theta));
        }
        sum += weight * sin(theta) * sin(theta) * ring;
    }
    return sum;
}

brv_status brv_vessel_shading(double *shading, double x, struct brv_error *error)
{
    *shading = 1.0;
    if (!(x > 0.0)) return BRV_OK;
    gsl_integration_glfixed_table *nodes = gsl_integration_glfixed_table_alloc(NODES);
    if (!nodes) return brv_error_raise(error, BRV_MEMORY, "vessel");
    *shading = 4.0 / (BRV_PI * x) * seen(nodes, x);
    gsl_integration_glfixed_table_free(nodes);
    return BRV_OK;
}
