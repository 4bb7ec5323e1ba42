#include "study/remains.h"

#include <assert.h>
#include <math.h>

void brv_remains_away(double away[BRV_MOST_VISITS + 1], double returns)
{
    away[0] = 1.0;
    for (size_t k = 1; k <= BRV_MOST_VISITS; k++) away[k] = (1.0 - returns) * away[k - 1];
}

struct brv_missing brv_remains_missing(const struct brv_remains *remains, const struct brv_population *population,
                                       const double away[BRV_MOST_VISITS + 1], size_t now, double ln)
{
    struct brv_missing sum = {0.0, 0.0};
    double grains = 0.0, blackness = 0.0; /* beyond the step above */
    for (size_t k = remains->n; k-- > 0;) {
        const double from = fmax(remains->edge[k], ln), share = away[now - remains->visit[k]];
        const double here = brv_population_darker(population, from);
        const double black = brv_population_blackness(population, from);
        sum.grains += share * (here - grains);
        sum.blackness += share * (black - blackness);
        grains = here;
        blackness = black;
    }
    return sum;
}

double brv_remains_taken(const struct brv_remains *remains, const struct brv_population *population,
                         const double away[BRV_MOST_VISITS + 1], size_t now, double edge)
{
    const double there =
        brv_population_darker(population, edge) - brv_remains_missing(remains, population, away, now, edge).grains;
    return fmax(there, 0.0); /* rounding */
}

/* Steps above the edge are gone with their grains. */
void brv_remains_take(struct brv_remains *remains, size_t now, double edge)
{
    assert(now >= 1 && now <= BRV_MOST_VISITS);
    while (remains->n > 0 && remains->edge[remains->n - 1] >= edge) remains->n--;
    remains->edge[remains->n] = edge;
    remains->visit[remains->n++] = now;
}
