#include "scenario/slip.h"

#include "scenario/nearest.h"

#include <stddef.h>
#include <string.h>

static const char no_power[] = "a pulse is described by its fluence or its energy, not by a power";

static const struct brv_slip slips[] = {
    {"light", "dose", "fluence", NULL},
    {"light", "radiant_exposure", "fluence", NULL},
    {"light", "energy_density", "fluence", NULL},
    {"light", "fluence_rate", "fluence", no_power},
    {"light", "power", "energy", no_power},
    {"light", "irradiance", "fluence", no_power},
    {"light", "width", "pulse", NULL},
    {"light", "pulse_width", "pulse", NULL},
    {"light", "pulse_length", "pulse", NULL},
    {"light", "pulse_duration", "pulse", NULL},
    {"light", "duration", "pulse", NULL},
    {"light", "spot_size", "spot", NULL},
    {"light", "spotsize", "spot", NULL},
    {"light", "diameter", "spot", NULL},
    {"light", "radius", "spot", "spot is a diameter, twice the radius"},
    {"light", "lambda", "wavelength", NULL},
    {"light", "colour", "wavelength", NULL},
    {"light", "frequency", "rate", NULL},
    {"light", "repetition", "rate", NULL},
    {"light", "repetition_rate", "rate", NULL},
    {"light", "period", "rate", "rate is how often pulses come, one over their period"},
    {"light", "interval", "rate", "rate is how often pulses come, one over their interval"},
    {"light", "pulses", "count", NULL},
    {"light", "repeats", "count", NULL},

    {"skin", "name", NULL, "a layer's name stands behind `layer:`"},
    {"skin", "melanin", "melanosomes", "pigment is given as melanosomes, their share of the layer's volume"},
    {"skin", "pigment", "melanosomes", "pigment is given as melanosomes, their share of the layer's volume"},
    {"skin", "melanosome", "melanosomes", NULL},
    {"skin", "oxygenation", "saturation", NULL},
    {"skin", "depth", "thickness", "a layer has a thickness; its depth follows from the layers above it"},
    {"skin", "mua", "absorption", NULL},
    {"skin", "mu_a", "absorption", NULL},
    {"skin", "mus", "scattering", NULL},
    {"skin", "mu_s", "scattering", NULL},
    {"skin", "musp", "reduced_scattering", NULL},
    {"skin", "mu_s_prime", "reduced_scattering", NULL},
    {"skin", "g", "anisotropy", NULL},
    {"skin", "n", "index", NULL},
    {"skin", "refractive_index", "index", NULL},
    {"skin", "k", "conductivity", NULL},
    {"skin", "rho", "density", NULL},
    {"skin", "cp", "heat_capacity", NULL},
    {"skin", "specific_heat", "heat_capacity", NULL},
    {"skin", "bloodflow", "perfusion", NULL},

    {"grain", "size", "diameter", NULL},
    {"grain", "radius", "diameter", "a grain has a diameter, twice its radius"},
    {"grain", "where", "layer", NULL},

    {"surface", "medium", "outside", NULL},
    {"surface", "coupling", "outside", NULL},
    {"surface", "temp", "temperature", NULL},
    {"surface", "n", "index", NULL},
    {"surface", "blood", "core", NULL},
    {"surface", "body", "core", NULL},
    {"surface", "h", "transfer", NULL},
    {"surface", "start", "from", NULL},
    {"surface", "end", "to", NULL},
    {"surface", "until", "to", NULL},

    {"watch", "time", "until", NULL},
    {"watch", "end", "until", NULL},

    {"skin.colour", "L*", "L", NULL},
    {"skin.colour", "b*", "b", NULL},
    {"skin.colour", "a", "L", "ITA is made of L and b alone; a* is what the model gives for them, see `brevis colour`"},
    {"skin.colour", "a*", "L",
     "ITA is made of L and b alone; a* is what the model gives for them, see `brevis colour`"},
    {"skin.colour", "ITA", "L", "write L and b as they were measured; ITA follows from them"},
    {"skin.colour", "ita", "L", "write L and b as they were measured; ITA follows from them"},

    {"ready skin", "lite", "light", NULL},
    {"ready skin", "fair", "light", NULL},
    {"ready skin", "pale", "light", NULL},
    {"ready skin", "medium", "intermediate", NULL},
    {"ready skin", "brown", "intermediate", NULL},
    {"ready skin", "black", "dark", NULL},

    {"", "name", "title", NULL},
    {"", "lite", "light", NULL},
    {"", "laser", "light", NULL},
    {"", "beam", "light", NULL},
    {"", "tissue", "skin", NULL},
    {"", "layers", "skin", NULL},
    {"", "melanosome", "grain", NULL},
    {"", "output", "watch", NULL},
    {"", "color", "skin", "a measured colour stands in the skin, as in skin: {colour: {L: 62, b: 17}}"},
    {"", "colour", "skin", "a measured colour stands in the skin, as in skin: {colour: {L: 62, b: 17}}"},
    {"", "site", "skin", "a body site stands in the skin, as in skin: {ready: light, site: neck}"},
};

const struct brv_slip *brv_slip_find(const char *section, const char *word)
{
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++)
        if (!strcmp(slips[i].section, section) && brv_nearest_distance(slips[i].written, word) == 0) return &slips[i];
    return NULL;
}

const struct brv_slip *brv_slip_below(const char *word)
{
    static const char *const section[] = {"light", "skin", "grain", "surface", "watch"};
    const struct brv_slip *slip = NULL;
    for (size_t i = 0; i < sizeof section / sizeof *section && !slip; i++) slip = brv_slip_find(section[i], word);
    return slip && slip->meant ? slip : NULL;
}
