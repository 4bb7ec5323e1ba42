#include "base/ladder.h"

void brv_ladder_factor(size_t n, const double own[], const double link[], double pivot[], double pass[])
{
    double held = own[0]; /* conductance to ground of everything before and at cell i */
    for (size_t i = 0; i < n; i++) {
        const double onward = i + 1 < n ? link[i + 1] : 0.0;
        pivot[i] = 1.0 / (held + onward);
        pass[i] = onward * pivot[i];
        if (i + 1 < n) held = own[i + 1] + held * pass[i];
    }
}

void brv_ladder_solve(size_t n, const double link[], const double pivot[], const double pass[], double right[])
{
    for (size_t i = 1; i < n; i++) right[i] += pass[i - 1] * right[i - 1];

    right[n - 1] *= pivot[n - 1];
    for (size_t i = n - 1; i-- > 0;) right[i] = (right[i] + link[i + 1] * right[i + 1]) * pivot[i];
}
