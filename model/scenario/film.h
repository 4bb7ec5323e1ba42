/* A film on the skin, such as make-up, sunscreen or soot: an absorbing layer without a source of its own numbers.
 * It is layer 0 of lesion and neighbour alike, of kind BRV_FILM, so that light and heat treat it as one more layer; it
 * takes no defaults of layers and no lesion changes it. Depths go on counting from the skin: a film lies above 0.
 * No pigment grains, no blood, nothing that melts, boils or burns. Tests: tests/verification/test_film.c.         */
#ifndef BRV_SCENARIO_FILM_H
#define BRV_SCENARIO_FILM_H

#include "scenario/scenario.h"

#include <stdbool.h>

/* Is layer 0 of this skin a film? */
bool brv_film_covers(const struct brv_skin *skin);

/* Thickness of the film on this skin, 0 without one [m]. */
double brv_film_thickness(const struct brv_skin *skin);

/* Makes room for a film that was asked for: layers and grain.layer move by one. Does nothing where there is room already,
 * where none was asked for, and to a skin of no layers. Needs fewer than BRV_MOST_LAYERS layers.                    */
void brv_film_cover(struct brv_scenario *ask);

/* Writes what was asked of the film into layer 0 of both skins. */
void brv_film_lay(struct brv_scenario *ask);

/* The same scenario with bare skin. */
struct brv_scenario brv_film_removed(const struct brv_scenario *ask);

#endif
