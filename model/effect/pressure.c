#include "effect/pressure.h"

#include "base/constants.h"

#include <math.h>
#include <stddef.h>

/* Water, from its density, speed of sound and heat capacity. Source: [photoacoustic], computed. */
static const struct {
    double celsius, gamma;
} water[] = {
    {4.0, 0.0001},  {10.0, 0.0440}, {20.0, 0.1087}, {25.0, 0.1379}, {30.0, 0.1653},
    {37.0, 0.2011}, {50.0, 0.2604}, {60.0, 0.3007}, {80.0, 0.3692}, {90.0, 0.3980},
};

enum { N_WATER = sizeof water / sizeof *water };

double brv_pressure_confined(double theta)
{
    return theta > 0.0 ? -expm1(-theta) / theta : 1.0;
}

double brv_pressure_grueneisen(double temperature)
{
    const double celsius = temperature - BRV_ZERO_C;
    if (celsius >= water[N_WATER - 1].celsius) return water[N_WATER - 1].gamma;
    if (celsius <= water[0].celsius) return 0.0; /* below it water shrinks as it warms: no pressure */
    size_t i = 0;
    while (i + 2 < N_WATER && celsius > water[i + 1].celsius) i++;
    const double slope = (water[i + 1].gamma - water[i].gamma) / (water[i + 1].celsius - water[i].celsius);
    return water[i].gamma + slope * (celsius - water[i].celsius);
}

/* Straight between two points of the table, so the trapezium is exact there. */
static double trapezium(double from, double to)
{
    return 0.5 * (to - from) * (brv_pressure_grueneisen(from) + brv_pressure_grueneisen(to));
}

double brv_pressure_at_once(double from, double to, double heat_capacity)
{
    if (!(to > from)) return 0.0;
    double sum = 0.0, now = from;
    for (size_t i = 0; i < N_WATER && now < to; i++) {
        const double next = fmin(water[i].celsius + BRV_ZERO_C, to);
        if (next <= now) continue;
        sum += trapezium(now, next);
        now = next;
    }
    return heat_capacity * (sum + trapezium(now, fmax(now, to)));
}
