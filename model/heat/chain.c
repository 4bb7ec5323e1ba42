#include "heat/chain.h"

#include "base/array.h"

#include <stdlib.h>

brv_status brv_chain_build(struct brv_chain *chain, size_t n, struct brv_error *error)
{
    *chain = (struct brv_chain){.n = n,
                                .capacity = brv_array_new(n),
                                .link = brv_array_new(n + 1),
                                .sink = brv_array_new(n),
                                .rise = brv_array_new(n),
                                .peak = brv_array_new(n)};
    if (chain->capacity && chain->link && chain->sink && chain->rise && chain->peak) return BRV_OK;
    brv_chain_free(chain);
    return brv_error_raise(error, BRV_MEMORY, "chain");
}

double brv_chain_stored(const struct brv_chain *chain)
{
    double sum = 0.0;
    for (size_t i = 0; i < chain->n; i++) sum += chain->capacity[i] * chain->rise[i];
    return sum;
}

double brv_chain_read(const struct brv_chain *chain, const struct brv_reading *reading)
{
    return reading->weight[0] * chain->rise[reading->cell[0]] + reading->weight[1] * chain->rise[reading->cell[1]];
}

double brv_chain_gauge(const struct brv_chain *chain, const struct brv_gauge *gauge)
{
    double sum = 0.0;
    for (size_t k = 0; k < gauge->n; k++) sum += gauge->weight[k] * chain->rise[gauge->first + k];
    return sum;
}

void brv_chain_free(struct brv_chain *chain)
{
    free(chain->capacity);
    free(chain->link);
    free(chain->sink);
    free(chain->rise);
    free(chain->peak);
    *chain = (struct brv_chain){.n = 0};
}
