/* The section `spread`: values of the scenario that the user opens for `brevis spread`, each with low and high.
 *     spread: { skin.basal.melanosomes: 4 % to 9 %, grain.darkness: 0.5 to 2 }
 * Refused with their place: what is no key, is no number, counts or lays out time, says nothing in this scenario, is
 * outside the key's range, reversed, does not hold the scenario's own value, or is opened twice.                     */
#ifndef BRV_CLI_SCENARIO_SPREAD_SECTION_H
#define BRV_CLI_SCENARIO_SPREAD_SECTION_H

#include "scenario/walk.h"

/* Reads the section of a walked document, if it has one, into walk->request, whose scenario is filled. `sound`: nothing
 * was wrong with the rest, so that the scenario's own values may be looked at.                                       */
void brv_spread_section(struct brv_walk *walk, bool sound);

#endif
