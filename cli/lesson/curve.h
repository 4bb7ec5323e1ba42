/* Curves of a run for a lesson's figure, read off results where they lie. */
#ifndef BRV_CLI_LESSON_CURVE_H
#define BRV_CLI_LESSON_CURVE_H

#include "lesson/drawing.h"
#include "run/run.h"

/* Rise of one probe of one choice's lesion or neighbour against time from the start of the first pulse. */
struct brv_drawing_curve brv_curve_time(const struct brv_compared *compared, size_t choice, enum brv_site_index site,
                                        size_t probe, const char *name);

/* Light against depth in one choice's lesion or neighbour, the fluence of its pulse counted in: fills depth and light, each
 * [BRV_CURVE_DEPTHS] in m and J/m2, from the surface to 3 mm.                                                       */
enum { BRV_CURVE_DEPTHS = 61 };
struct brv_curve_light {
    double depth[BRV_CURVE_DEPTHS], light[BRV_CURVE_DEPTHS];
};
struct brv_drawing_curve brv_curve_depth(struct brv_curve_light *into, const struct brv_compared *compared,
                                         size_t choice, enum brv_site_index site, const char *name);

#endif
