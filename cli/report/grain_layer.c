#include "report/grain_layer.h"

#include "scenario/letters.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { BETWEEN = 3 }; /* letters of " / " */

static size_t layer_of(const struct brv_result *result, size_t site)
{
    return result->site[site].tissue.grain.layer;
}

bool brv_grain_layers_differ(const struct brv_result *result)
{
    return layer_of(result, BRV_LESION) != layer_of(result, BRV_NEIGHBOUR);
}

const char *brv_grain_layer(const struct brv_request *request, const struct brv_result *result, size_t site)
{
    return request->layer_name[layer_of(result, site)];
}

/* "top of " or "mean of " */
static const char *part_of(const struct brv_result *result, size_t site)
{
    const struct brv_tissue *tissue = &result->site[site].tissue;
    return isinf(tissue->layer[tissue->grain.layer].thickness) ? "top of " : "mean of ";
}

/* Half of the room each; what a short name leaves over is the other's. */
static const char *join(char out[BRV_GRAIN_LAYER_SIZE], const struct brv_request *request,
                        const struct brv_result *result, size_t width, bool with_part)
{
    const bool two = brv_grain_layers_differ(result);
    const char *name[BRV_N_SITE], *part[BRV_N_SITE];
    size_t taken = two ? BETWEEN : 0, length[BRV_N_SITE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        name[i] = brv_grain_layer(request, result, i);
        part[i] = with_part ? part_of(result, i) : "";
        if (two || i == 0) taken += strlen(part[i]);
        length[i] = strlen(name[i]);
    }
    const size_t room = width > taken ? width - taken : 0;
    size_t most[BRV_N_SITE] = {room, 0};
    if (two) {
        const size_t second = length[1] < room / 2 ? length[1] : room / 2;
        most[0] = length[0] < room - second ? length[0] : room - second;
        most[1] = room - most[0];
    }
    for (size_t i = 0; i < BRV_N_SITE; i++) most[i] = brv_letters_bytes(name[i], most[i]);
    if (two)
        snprintf(out, BRV_GRAIN_LAYER_SIZE, "%s%.*s / %s%.*s", part[0], (int)most[0], name[0], part[1], (int)most[1],
                 name[1]);
    else
        snprintf(out, BRV_GRAIN_LAYER_SIZE, "%s%.*s", part[0], (int)most[0], name[0]);
    return out;
}

const char *brv_grain_layer_pair(char out[BRV_GRAIN_LAYER_SIZE], const struct brv_request *request,
                                 const struct brv_result *result, size_t width)
{
    return join(out, request, result, width, false);
}

const char *brv_grain_layer_read(char out[BRV_GRAIN_LAYER_SIZE], const struct brv_request *request,
                                 const struct brv_result *result, size_t width)
{
    return join(out, request, result, width, true);
}
