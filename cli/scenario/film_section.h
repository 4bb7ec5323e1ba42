/* The section `film`: keys of a film on the skin, or the word `none`, with which a choice takes one away. */
#ifndef BRV_CLI_SCENARIO_FILM_SECTION_H
#define BRV_CLI_SCENARIO_FILM_SECTION_H

#include "scenario/walk.h"

/* Reads the section, if there is one. When everything else is read: skin, grain and lesion know nothing of the film. The
 * film becomes layer 0, called `film`, and everything that belongs to a layer moves down by one.                     */
void brv_film_section(struct brv_walk *walk);

#endif
