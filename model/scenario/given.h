/* A scenario filled from C: one key after another, named and bounded as in a file, values in SI.
 *
 *     struct brv_scenario ask = {0};
 *     const enum brv_layer_kind kind[] = {BRV_EPIDERMIS, BRV_BASAL, BRV_DERMIS};
 *     brv_skin_stack(&ask, kind, 3);                                 or brv_skin_preset of both skins
 *     status = brv_scenario_give(&ask, "light.wavelength", 532e-9, &error);
 *     status = brv_scenario_give(&ask, "skin.basal.melanosomes", 0.10, &error);
 *     status = brv_scenario_give(&ask, "lesion.basal.melanosomes", 0.25, &error);
 *     brv_scenario_fill(&ask);
 *     if (brv_scenario_check(&ask, &error, 1)) ...                   from here on brv_run_solve takes it
 *
 * Paths are those of docs/reference/scenario.md: `light.KEY`, `skin.LAYER.KEY`, `grain.KEY`, `surface.KEY`, ...; before
 * those of layers and grain may stand `lesion.`, and then the lesion alone has the value. LAYER is the word of the layer's
 * kind, the first of that kind. What is given to skin or grain goes to the lesion too: give skin first, then lesion.
 * A word is given as the number of its enum (light.shape: BRV_SHAPE_SQUARE), `endless` as INFINITY; a list, such as
 * watch.depths, takes one value more with each call. The kind of a layer is said by brv_skin_stack only, and a measured
 * colour (skin.colour) is made pigment of by side/colour.h.
 * Tests: tests/unit/test_given.c; docs/how_to/call_the_model.c is compiled and run by tests/cli/install.sh.       */
#ifndef BRV_SCENARIO_GIVEN_H
#define BRV_SCENARIO_GIVEN_H

#include "base/status.h"
#include "scenario/scenario.h"

#include <stddef.h>

/* Layers of these kinds from the surface inwards, with nothing else said of them, in both skins; n <= BRV_MOST_LAYERS.
 * What was given to layers before is forgotten.                                                                   */
void brv_skin_stack(struct brv_scenario *ask, const enum brv_layer_kind kind[], size_t n);

/* Gives one key. BRV_MISSING: no such key, or no such layer in the skin; BRV_RANGE: outside the key's bounds, which are
 * then error->least and error->most, or one more than a list can hold. `ask` is then as it was; error->key is the row of
 * the key or -1, error->found the value.                                                                          */
brv_status brv_scenario_give(struct brv_scenario *ask, const char *path, double value,
                             struct brv_error *error) BRV_MUST_CHECK;

#endif
