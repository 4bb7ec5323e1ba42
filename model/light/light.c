#include "light/light.h"

#include <math.h>

static void copy_media(struct brv_medium medium[], const struct brv_tissue *tissue)
{
    for (size_t i = 0; i < tissue->n_layer; i++) {
        const struct brv_layer *layer = &tissue->layer[i];
        medium[i] = (struct brv_medium){.thickness = layer->thickness,
                                        .absorption = layer->absorption,
                                        .scattering = layer->scattering,
                                        .anisotropy = layer->anisotropy,
                                        .index = layer->index};
    }
}

/* Mean over a layer. It follows from what the layer absorbs, so that grains and layer hold the same energy; a clear
 * layer has no such measure and takes Simpson's rule, an endless one the value at its top.                       */
static double mean_fluence(const struct brv_light *light, const struct brv_layer *layer, double top)
{
    const double bottom = top + layer->thickness;
    if (isinf(layer->thickness)) return brv_light_fluence(light, top);
    if (layer->absorption > 0.0) return brv_light_absorbed(light, top, bottom) / (layer->absorption * layer->thickness);
    const double last = nextafter(bottom, top); /* still inside: on the face itself the deeper side is meant */
    return (brv_light_fluence(light, top) + 4.0 * brv_light_fluence(light, 0.5 * (top + bottom)) +
            brv_light_fluence(light, last)) /
           6.0;
}

static void place_layers(struct brv_light *light, const struct brv_tissue *tissue)
{
    double top = 0.0;
    light->n_layer = tissue->n_layer;
    for (size_t i = 0; i < tissue->n_layer; i++) {
        light->top[i] = top;
        light->mean_fluence[i] = mean_fluence(light, &tissue->layer[i], top);
        top += tissue->layer[i].thickness;
    }
}

static void judge_width(struct brv_light *light, const struct brv_tissue *tissue, const struct brv_beam *beam)
{
    light->spot_depths = beam->spot / brv_tissue_diffusion_depth(&tissue->layer[tissue->n_layer - 1]);
    light->wide = light->spot_depths >= 10.0  ? BRV_WIDE_ALL
                  : light->spot_depths >= 4.5 ? BRV_WIDE_SHALLOW
                                              : BRV_WIDE_NOT;
}

brv_status brv_light_solve(struct brv_light *light, const struct brv_tissue *tissue, const struct brv_beam *beam,
                           struct brv_error *error)
{
    struct brv_medium medium[BRV_MOST_LAYERS];
    copy_media(medium, tissue);
    const struct brv_layered_ask ask = {.n_medium = tissue->n_layer,
                                        .medium = medium,
                                        .outside_index = tissue->outside_index,
                                        .below_index = tissue->below_index,
                                        .cosine = 1.0};
    *light = (struct brv_light){.n_layer = 0};
    const brv_status status = brv_layered_solve(&light->layered, &ask, error);
    if (status) return status;

    place_layers(light, tissue);
    judge_width(light, tissue, beam);
    return BRV_OK;
}

double brv_light_fluence(const struct brv_light *light, double depth)
{
    return brv_layered_fluence(&light->layered, depth);
}

double brv_light_absorbed(const struct brv_light *light, double from, double to)
{
    const double onward = isinf(to) ? 0.0 : brv_layered_net_flux(&light->layered, to);
    return brv_layered_net_flux(&light->layered, from) - onward;
}

void brv_light_free(struct brv_light *light)
{
    brv_layered_free(&light->layered);
    *light = (struct brv_light){.n_layer = 0};
}
