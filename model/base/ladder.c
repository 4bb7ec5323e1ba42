#include "base/ladder.h"

/* Takes a cell out of the ladder. Its neighbour on the way to the middle sees this conductance to ground instead. */
static double eliminate(double held, double onward, double *pivot, double *pass)
{
    *pivot = 1.0 / (held + onward);
    *pass = onward * *pivot;
    return held * onward * *pivot;
}

void brv_ladder_factor(size_t n, const double own[], const double link[], double pivot[], double pass[])
{
    const size_t middle = n / 2;
    double above = 0.0, below = 0.0;
    for (size_t i = 0, j = n - 1; i < middle; i++, j--) {
        above = eliminate(own[i] + above, link[i + 1], &pivot[i], &pass[i]);
        if (j > middle) below = eliminate(own[j] + below, link[j], &pivot[j], &pass[j]);
    }
    pivot[middle] = 1.0 / (own[middle] + above + below);
    pass[middle] = 0.0;
}

void brv_ladder_solve(size_t n, const double pivot[], const double pass[], double right[])
{
    const size_t middle = n / 2;
    double above = 0.0, below = 0.0; /* handed on to the next cell; read from right[] they would wait for the store */
    for (size_t i = 0, j = n - 1; i < middle; i++, j--) {
        const double upper = right[i] + above;
        right[i] = upper;
        above = pass[i] * upper;
        if (j == middle) continue;
        const double lower = right[j] + below;
        right[j] = lower;
        below = pass[j] * lower;
    }

    right[middle] = (right[middle] + above + below) * pivot[middle];
    above = below = right[middle];
    for (size_t i = middle, j = n - middle; i-- > 0; j++) {
        above = right[i] * pivot[i] + pass[i] * above;
        right[i] = above;
        if (j == middle) continue;
        below = right[j] * pivot[j] + pass[j] * below;
        right[j] = below;
    }
}
