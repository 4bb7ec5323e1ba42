#include "heat/source.h"

double brv_source_share(const struct brv_source *source, double from, double to)
{
    if (!source->deposit) return 0.0;
    return source->delivered(source->pulse, to) - source->delivered(source->pulse, from);
}
