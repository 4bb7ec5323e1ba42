/* What lies on the skin, and how warm the skin is at the start.
 * Still air lies there except from `from` to `to`, when `outside` does. With `outside` air nothing ever changes, and
 * the same holds when `index` is given: the medium with that index then lies there all the time. What lies there all
 * the time is in balance with the start profile: it takes just the heat that flows up from the core.            */
#ifndef BRV_SCENARIO_SURFACE_H
#define BRV_SCENARIO_SURFACE_H

#include <stdbool.h>
#include <stddef.h>

enum brv_outside { BRV_AIR, BRV_GEL, BRV_FORCED_AIR, BRV_PLATE, BRV_N_OUTSIDE };

struct brv_surface {
    unsigned given;
    int outside;                /* enum brv_outside                                                       */
    double index;               /* of what lies on the skin during the pulses                  [1]        */
    double temperature;         /* of the skin's surface at the start                          [K]        */
    double core;                /* of the blood and of the depth                               [K]        */
    double outside_temperature; /* of gel, moving air or plate                                 [K]        */
    double transfer;            /* heat passed to what `outside` or `index` says, per kelvin   [W/m2/K]   */
    double air_transfer;        /* the same for what lies there before `from` and after `to`; no key      */
    double from, to;            /* counted from the start of the first pulse                   [s]        */
};

/* Refractive index of a medium [1], and the transfer taken when none is given [W/m2/K]. */
double brv_outside_index(enum brv_outside outside);
double brv_outside_transfer(enum brv_outside outside);

struct brv_scenario;

/* Is anything ever laid on or taken away? Not with air, and not when `index` is given. */
bool brv_surface_changes(const struct brv_scenario *ask);

/* Does the medium lie on the skin during the pulses? False for air, true when `index` is given. */
bool brv_surface_covers(const struct brv_scenario *ask);

/* During how many of the pulses `outside` lies on the skin, from the first to the last moment of each. */
size_t brv_surface_covered_pulses(const struct brv_scenario *ask);

/* Does `time` fall into a pulse? The first and the last moment of a pulse do not count. */
bool brv_surface_within_pulse(const struct brv_scenario *ask, double time);

#endif
