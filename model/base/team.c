#include "base/team.h"

#include <stdlib.h>

#ifdef _OPENMP
#include <omp.h>
#endif

static int thread_count(size_t n, unsigned threads)
{
#ifdef _OPENMP
    const size_t offered = threads ? threads : (size_t)omp_get_max_threads();
#else
    const size_t offered = 1;
    (void)threads;
#endif
    return (int)(offered < n ? offered : n);
}

brv_status brv_team_run(size_t n, unsigned threads, brv_team_work work, void *context, struct brv_error *error)
{
    if (n == 0) return BRV_OK;
    struct brv_error *each = calloc(n, sizeof *each);
    if (!each) return brv_error_raise(error, BRV_MEMORY, "team");

    const int count = thread_count(n, threads);
    (void)count; /* used by the pragma only, when there is OpenMP */
#pragma omp parallel for schedule(dynamic, 1) num_threads(count)
    for (size_t i = 0; i < n; i++) each[i].status = work(context, i, &each[i]);

    size_t first = 0;
    while (first < n && !each[first].status) first++;
    const brv_status status = first < n ? each[first].status : BRV_OK;
    if (status && error) *error = each[first];
    free(each);
    return status;
}
