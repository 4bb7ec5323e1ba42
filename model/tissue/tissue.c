#include "tissue/tissue.h"

#include "base/constants.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"
#include "tissue/grain.h"

#include <assert.h>
#include <math.h>

static bool given(const struct brv_layer_ask *ask, const char *name)
{
    return brv_key_given(ask, BRV_SCOPE_LAYER, name);
}

/* Where the absorption is given outright there are no grains. */
static double pigment_share(const struct brv_layer_ask *layer)
{
    return given(layer, "absorption") ? 0.0 : layer->melanosomes;
}

/* The layer that was named, or the one with the densest pigment in the lesion: lesion and neighbour must be compared
 * in the same layer.                                                                                 */
static size_t grain_layer(const struct brv_scenario *ask, size_t site)
{
    const struct brv_skin *lesion = &ask->skin[BRV_LESION];
    if (ask->skin[site].grain.layer >= 0) return (size_t)ask->skin[site].grain.layer;

    size_t densest = brv_film_covers(lesion); /* no grain sits in a film */
    for (size_t i = densest + 1; i < lesion->n_layer; i++)
        if (pigment_share(&lesion->layer[i]) > pigment_share(&lesion->layer[densest])) densest = i;
    return densest;
}

static void resolve_grain(struct brv_grain *grain, const struct brv_grain_ask *ask, double wavelength)
{
    grain->radius = 0.5 * ask->diameter;
    grain->absorption = brv_key_given(ask, BRV_SCOPE_GRAIN, "absorption")
                            ? ask->absorption
                            : brv_chromophore_melanosome(wavelength, ask->darkness);
    grain->shading = brv_grain_shading(grain->absorption * ask->diameter);
    grain->conductivity = ask->conductivity;
    grain->heat_capacity = ask->density * ask->heat_capacity;
    grain->host_conductivity = ask->host_conductivity;
    grain->darkness_spread = ask->darkness_spread;
    grain->diameter_spread = ask->diameter_spread;
}

static void resolve_absorption(struct brv_layer *layer, const struct brv_layer_ask *ask, const struct brv_grain *grain,
                               double wavelength)
{
    layer->absorption_given = given(ask, "absorption");
    if (layer->absorption_given) {
        layer->absorption = ask->absorption;
        return;
    }
    const double bloodless = 1.0 - ask->melanosomes - ask->blood;
    layer->melanosomes = ask->melanosomes;
    layer->absorption_pigment = ask->melanosomes * grain->absorption * grain->shading;
    layer->absorption_blood = ask->blood * brv_chromophore_blood(wavelength, ask->saturation);
    layer->absorption_water = ask->water * brv_chromophore_water(wavelength);
    layer->absorption_baseline = ask->baseline * bloodless * brv_chromophore_baseline(wavelength);
    layer->absorption =
        layer->absorption_pigment + layer->absorption_blood + layer->absorption_water + layer->absorption_baseline;
}

static void resolve_scattering(struct brv_layer *layer, const struct brv_layer_ask *ask, double wavelength)
{
    layer->anisotropy = ask->anisotropy;
    layer->scattering_given = given(ask, "scattering") || given(ask, "reduced_scattering");
    if (given(ask, "scattering")) {
        layer->scattering = ask->scattering;
        return;
    }
    const double reduced =
        given(ask, "reduced_scattering") ? ask->reduced_scattering : brv_chromophore_reduced_scattering(wavelength);
    layer->scattering = reduced / (1.0 - ask->anisotropy);
}

static void resolve_layer(struct brv_layer *layer, const struct brv_layer_ask *ask, const struct brv_grain *grain,
                          double wavelength)
{
    *layer = (struct brv_layer){.kind = ask->kind, .thickness = ask->thickness, .index = ask->index};
    resolve_absorption(layer, ask, grain, wavelength);
    resolve_scattering(layer, ask, wavelength);
    layer->conductivity = ask->conductivity;
    layer->host_heat_capacity = ask->density * ask->heat_capacity;
    layer->heat_capacity =
        layer->melanosomes * grain->heat_capacity + (1.0 - layer->melanosomes) * layer->host_heat_capacity;
    layer->perfusion = ask->perfusion * BRV_BLOOD_DENSITY * BRV_BLOOD_HEAT_CAPACITY;
}

/* The grain's cell: a sphere of the layer's own mixture, so that cells fill the layer and add up to it. */
static void place_grain(struct brv_grain *grain, const struct brv_layer *layer)
{
    grain->cell_radius = brv_grain_cell_radius(grain->radius, layer->melanosomes);
    grain->host_heat_capacity = layer->host_heat_capacity;
    grain->host_absorption = (layer->absorption - layer->absorption_pigment) / (1.0 - layer->melanosomes);
}

void brv_tissue_resolve(struct brv_tissue *tissue, const struct brv_scenario *ask, size_t site)
{
    const struct brv_skin *skin = &ask->skin[site];
    assert(skin->n_layer > 0 && skin->n_layer <= BRV_MOST_LAYERS);

    *tissue = (struct brv_tissue){.wavelength = ask->beam.wavelength,
                                  .outside_index = ask->surface.index,
                                  .below_index = ask->below.index,
                                  .n_layer = skin->n_layer};
    resolve_grain(&tissue->grain, &skin->grain, tissue->wavelength);
    for (size_t i = 0; i < skin->n_layer; i++)
        resolve_layer(&tissue->layer[i], &skin->layer[i], &tissue->grain, tissue->wavelength);

    tissue->grain.layer = grain_layer(ask, site);
    place_grain(&tissue->grain, &tissue->layer[tissue->grain.layer]);
}

struct brv_grain brv_tissue_grain(const struct brv_tissue *tissue, size_t layer, double diameter)
{
    struct brv_grain grain = tissue->grain;
    grain.layer = layer;
    grain.radius = 0.5 * diameter;
    grain.shading = brv_grain_shading(grain.absorption * diameter);
    place_grain(&grain, &tissue->layer[layer]);
    return grain;
}

double brv_tissue_above(const struct brv_tissue *tissue)
{
    return tissue->n_layer > 0 && tissue->layer[0].kind == BRV_FILM ? tissue->layer[0].thickness : 0.0;
}

double brv_tissue_diffusion_depth(const struct brv_layer *layer)
{
    const double reduced = layer->scattering * (1.0 - layer->anisotropy);
    return 1.0 / sqrt(3.0 * layer->absorption * (layer->absorption + reduced));
}
