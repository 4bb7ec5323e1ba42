#include "lesson/curve.h"

#include "light/light.h"

#define DEEPEST 3e-3 /* [m] */

struct brv_drawing_curve brv_curve_time(const struct brv_compared *compared, size_t choice, enum brv_site_index site,
                                        size_t probe, const char *name)
{
    const struct brv_history *history = &compared->comparison->result[choice].site[site].history;
    return (struct brv_drawing_curve){
        .name = name, .n = history->n_time, .x = history->time, .y = brv_history_rise(history, probe)};
}

struct brv_drawing_curve brv_curve_depth(struct brv_curve_light *into, const struct brv_compared *compared,
                                         size_t choice, enum brv_site_index site, const char *name)
{
    const struct brv_result *result = &compared->comparison->result[choice];
    for (size_t i = 0; i < BRV_CURVE_DEPTHS; i++) {
        into->depth[i] = DEEPEST * (double)i / (BRV_CURVE_DEPTHS - 1);
        into->light[i] = result->ask.beam.fluence * brv_light_fluence(&result->site[site].light, into->depth[i]);
    }
    return (struct brv_drawing_curve){.name = name, .n = BRV_CURVE_DEPTHS, .x = into->depth, .y = into->light};
}
