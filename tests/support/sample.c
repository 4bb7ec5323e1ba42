#include "support/sample.h"

#include "tissue/tissue.h"

#include <string.h>

void sample_give(void *scope_struct, enum brv_scope scope, const char *name)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    given |= brv_key_bit((size_t)brv_key_find(scope, name));
    memcpy(scope_struct, &given, sizeof given);
}

void sample_set(struct brv_scenario *ask, enum brv_scope scope, size_t layer, const char *name, double value)
{
    const struct brv_key *key = &brv_keys[brv_key_find(scope, name)];
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        char *target = brv_key_scope(ask, scope, site, layer);
        memcpy(target + key->offset, &value, sizeof value);
        sample_give(target, scope, name);
    }
}

struct brv_scenario sample_scenario(void)
{
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    ask.beam.wavelength = 532e-9;
    ask.beam.spot = 4e-3;
    ask.beam.fluence = 6e3;
    ask.beam.method = BRV_METHOD_LAYERED; /* exact and fast; spots have tests of their own */
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "method");
    ask.pulse.width = 7e-9;
    ask.pulse.shape = BRV_SHAPE_SQUARE;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "wavelength");
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "spot");
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "fluence");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "pulse");
    sample_give(&ask.pulse, BRV_SCOPE_PULSE, "shape");
    brv_skin_preset(&ask.skin[BRV_NEIGHBOUR], BRV_LIGHT_SKIN);
    ask.skin[BRV_LESION] = ask.skin[BRV_NEIGHBOUR];
    return ask;
}

size_t sample_media(struct brv_medium *media, double wavelength, enum brv_preset preset)
{
    struct brv_scenario ask = sample_scenario();
    struct brv_tissue tissue;
    ask.beam.wavelength = wavelength;
    brv_skin_preset(&ask.skin[BRV_NEIGHBOUR], preset);
    ask.skin[BRV_LESION] = ask.skin[BRV_NEIGHBOUR];
    brv_scenario_fill(&ask);
    brv_tissue_resolve(&tissue, &ask, BRV_NEIGHBOUR);
    for (size_t i = 0; i < tissue.n_layer; i++) {
        const struct brv_layer *layer = &tissue.layer[i];
        media[i] = (struct brv_medium){layer->thickness, layer->absorption, layer->scattering, layer->anisotropy,
                                       layer->index};
    }
    return tissue.n_layer;
}

bool sample_is_only_fault(const struct brv_scenario *ask, brv_status status, enum brv_scope scope, const char *name)
{
    struct brv_error fault[8];
    struct brv_scenario filled = *ask;
    brv_scenario_fill(&filled);
    const size_t n = brv_scenario_check(&filled, fault, 8);
    return n == 1 && fault[0].status == status && fault[0].scope == (int)scope &&
           fault[0].key == brv_key_find(scope, name);
}
