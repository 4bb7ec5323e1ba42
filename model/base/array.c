#include "base/array.h"

#include <stdlib.h>

double *brv_array_new(size_t count)
{
    return calloc(count ? count : 1, sizeof(double));
}

size_t brv_array_interval(const double *x, size_t n, double value)
{
    size_t low = 0, high = n;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (value >= x[middle])
            low = middle;
        else
            high = middle;
    }
    return low;
}
