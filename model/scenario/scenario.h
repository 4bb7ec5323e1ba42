/* What is asked: light, two skins (the lesion and its neighbour), surface and what to watch. SI throughout.
 *
 * Every scope is a plain struct whose first member `given` holds one bit per key (see scenario/keys.h): which
 * values the user wrote. brv_scenario_fill adds the defaults, brv_scenario_check lists every fault; behind that
 * gate the model asserts and never checks again.                                                             */
#ifndef BRV_SCENARIO_SCENARIO_H
#define BRV_SCENARIO_SCENARIO_H

#include "base/status.h"
#include "scenario/beam.h"
#include "scenario/pulse.h"
#include "scenario/surface.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_MOST_LAYERS = 16, BRV_MOST_DEPTHS = 16, BRV_MOST_STEPS = 12 };
enum brv_site_index { BRV_LESION, BRV_NEIGHBOUR, BRV_N_SITE };
enum brv_layer_kind {
    BRV_HORNY,
    BRV_EPIDERMIS,
    BRV_BASAL,
    BRV_DERMIS,
    BRV_FAT,
    BRV_N_KIND,           /* kinds that have defaults and can be written */
    BRV_FILM = BRV_N_KIND /* on the skin; see scenario/film.h */
};

struct brv_layer_ask {
    unsigned given;
    int kind;                  /* enum brv_layer_kind: which defaults this layer takes   */
    double thickness;          /* INFINITY for `endless`                       [m]       */
    double melanosomes;        /* volume share of pigment grains               [1]       */
    double blood;              /* volume share of blood                        [1]       */
    double saturation;         /* share of oxygenated blood                    [1]       */
    double water;              /* volume share of water                        [1]       */
    double baseline;           /* factor on the bloodless, pigment-free rest   [1]       */
    double absorption;         /* replaces the composition when given          [1/m]     */
    double scattering;         /* mu_s, when given                             [1/m]     */
    double reduced_scattering; /* mu_s (1 - g), when given                     [1/m]     */
    double anisotropy;         /* g                                            [1]       */
    double index;              /* refractive index                             [1]       */
    double conductivity;       /* of the host, that is without grains          [W/m/K]   */
    double density;            /* of the host                                  [kg/m3]   */
    double heat_capacity;      /* of the host                                  [J/kg/K]  */
    double perfusion;          /* volume of blood per volume and second        [1/s]     */
};

struct brv_grain_ask {
    unsigned given;
    double diameter;          /* [m] */
    double darkness;          /* factor on the absorption of pigment [1] */
    double absorption;        /* of the interior, replaces darkness x formula when given [1/m] */
    double conductivity;      /* [W/m/K]  */
    double density;           /* [kg/m3]  */
    double heat_capacity;     /* [J/kg/K] */
    double host_conductivity; /* of what surrounds the grain in its cell [W/m/K] */
    int layer;                /* index of the layer it sits in; -1: the one with the densest pigment */
    double darkness_spread;   /* standard deviation of ln darkness among grains [1] */
    double diameter_spread;   /* standard deviation of ln diameter among grains [1] */
};

/* A measured colour in place of a described pigment; side/colour.h makes pigment of it. */
struct brv_skin_colour {
    unsigned given;
    double lightness, yellow;           /* L* and b* under D65, 2 degree observer [1] */
    double melanosomes, low, high;      /* of the whole epidermis, by this model; no keys; 0: none was made [1] */
    double made_lightness, made_yellow; /* L* and b* of the skin that was made: only its angle is that measured [1] */
};

struct brv_skin {
    size_t n_layer;
    struct brv_layer_ask layer[BRV_MOST_LAYERS]; /* from the surface inwards */
    struct brv_grain_ask grain;
    int ready; /* 1 + enum brv_preset of the ready skin it came from; 0: it is described; no key */
    struct brv_skin_colour colour;
    int body; /* 1 + index of the body site whose thicknesses it took (scenario/body.h); 0: none; no key */
};

struct brv_below {
    unsigned given;
    double index; /* of what lies under a finite stack [1] */
    int returns;  /* 0: nothing comes back from there      */
};

struct brv_watch {
    unsigned given;
    size_t n_depth;
    double depth[BRV_MOST_DEPTHS]; /* [m] */
    double until;                  /* [s] */
    int damage;                    /* enum brv_damage_set of effect/damage.h */
    double criterion;              /* temperature at which a grain counts as disrupted [K] */
    int place;                     /* enum brv_grain_place: where it is looked for */
    double sign_column;            /* disrupted pigment, as a thickness, from which a sign counts as visible [m] */
    double tan; /* factor on the neighbour's pigment in the question what a tan does; 1: not asked [1] */
};

/* Where the temperature of a grain is compared with a criterion. */
enum brv_grain_place { BRV_PLACE_CENTRE, BRV_PLACE_MEAN, BRV_PLACE_SURFACE, BRV_N_PLACE };

struct brv_vessel_ask {
    unsigned given;
    double diameter;   /* [m] */
    double depth;      /* of its axis; 0: there is none [m] */
    double saturation; /* share of oxygenated blood in it [1] */
};

/* Test spots: steps of fluence that the user thought of. Nothing here has a default. */
struct brv_test_spots_ask {
    unsigned given;
    double first; /* fluence of the first spot [J/m2] */
    double ratio; /* of one spot to the one before [1] */
    double count; /* how many spots; whole [1] */
    double wait;  /* until they are read again; 0: not given [s] */
};

/* How the spots of one pulse each are laid on an area. Nothing but lattice and passes has a default. */
enum brv_lattice { BRV_HEXAGONAL, BRV_SQUARE_LATTICE, BRV_RANDOM_PLACES, BRV_N_LATTICE };

struct brv_cover_ask {
    unsigned given;
    double overlap; /* of neighbouring spots, over their diameter [1] */
    int lattice;    /* enum brv_lattice */
    double area;    /* of the skin that is covered [m2] */
    double rate;    /* how often a pulse comes [1/s] */
    double passes;  /* how often the area is covered; whole [1] */
};

/* Who else the light may reach. */
enum brv_edition_word { BRV_EDITION_BOTH, BRV_EDITION_EU_2006, BRV_EDITION_ICNIRP_2013 };

struct brv_room_ask {
    unsigned given;
    int edition;        /* enum brv_edition_word */
    double stay;        /* how long pulses may reach somebody [s] */
    double rate;        /* how often a pulse comes; 0: one pulse [1/s] */
    double beam;        /* 1/e2 diameter where it leaves the handpiece; 0: not given [m] */
    double divergence;  /* full angle of the beam, 1/e2; 0: not given [rad] */
    double lens;        /* focal length of a lens that the beam passes; 0: none given [m] */
    double reflectance; /* share of the light that skin scatters back; not given: computed [1] */
    double view;        /* from which side the spot is seen, from the normal of the skin [rad] */
    double distance;    /* of somebody in the room; 0: not given [m] */
    double lid;         /* dermis of an eyelid [m] */
};

#define BRV_ICNIRP_SHORTEST 1e-9 /* where the rows of that edition begin [s]. Source: [icnirp-2013], second-hand */

/* Several visits with the same pulse. Neither has a default. */
struct brv_visits_ask {
    unsigned given;
    double count;   /* whole [1] */
    double returns; /* share of the missing pigment that is back at the next visit [1] */
};

/* A film on the skin; see scenario/film.h. given = 0: the skin is bare. */
struct brv_film_ask {
    unsigned given;
    double thickness;          /* [m] */
    double absorption;         /* [1/m] */
    double reduced_scattering; /* [1/m] */
    double index;              /* [1] */
    double conductivity;       /* [W/m/K] */
    double density;            /* [kg/m3] */
    double heat_capacity;      /* [J/kg/K] */
};

struct brv_scenario {
    struct brv_beam beam;
    struct brv_pulse pulse;
    struct brv_skin skin[BRV_N_SITE];
    int lesion_given; /* 0: the lesion is made from the neighbour by brv_scenario_fill */
    struct brv_surface surface;
    struct brv_below below;
    struct brv_watch watch;
    struct brv_vessel_ask vessel;
    struct brv_test_spots_ask ladder;
    struct brv_cover_ask cover;
    struct brv_room_ask room;
    struct brv_visits_ask visits;
    struct brv_film_ask film;
};

/* Ready skins: epidermis 50 um, basal row 10 um, endless dermis. Whole-epidermis pigment 3.8, 9 and 14 % of the
 * volume, 60 % of it in the basal row. Source: [melanin-fraction]; the split is this project's choice.         */
enum brv_preset { BRV_LIGHT_SKIN, BRV_INTERMEDIATE_SKIN, BRV_DARK_SKIN, BRV_N_PRESET };

struct brv_ready_skin {
    const char *name;
    double melanosomes, low, high; /* of the whole epidermis [1] */
    const char *source, *seen;     /* as in the table of keys */
};

extern const struct brv_ready_skin brv_ready_skins[BRV_N_PRESET];

#define BRV_BASAL_SHARE 0.6 /* of the pigment lies in the basal row; 0.4-0.9, this project's choice [1] */
#define BRV_LESION_FACTOR                                                                                              \
    2.5 /* pigment of a lesion's basal row over its neighbour's; 1.5-4, this project's choice [1] */

/* Fills `skin` with a ready one; its values count as given. */
void brv_skin_preset(struct brv_skin *skin, enum brv_preset preset);

/* Lays a share of melanosomes of the whole epidermis, taken as 50 um above a basal row of 10 um: `basal_share` of them into
 * the basal row as far as they can be packed there, the rest above it; every epidermis and basal row of the skin. At a
 * body site the pigment per area stays, as brv_body_place keeps it: through a thicker epidermis it is spread.            */
void brv_skin_pigment(struct brv_skin *skin, double melanosomes, double basal_share);
/* The first layer of a kind, or n_layer. */
size_t brv_skin_layer(const struct brv_skin *skin, enum brv_layer_kind kind);

/* Adds what was not given: defaults from the key table, the second of fluence and energy, an end of the curves past a
 * train, what follows from the medium on the skin, and, when no lesion is described, a lesion with 2.5 times the
 * pigment in its basal rows, but no more than 60 %. Call once, before the check.                                 */
void brv_scenario_fill(struct brv_scenario *ask);

/* Lists every fault of a filled scenario into fault[room]; returns how many there are (may exceed `room`). */
size_t brv_scenario_check(const struct brv_scenario *ask, struct brv_error fault[], size_t room);

/* `factor` times a share of melanosomes, no more than grains can be packed [1]. */
double brv_melanosomes_times(double share, double factor);

/* The latest end that curves may have [s]. */
double brv_scenario_longest(void);

/* Depths at which the axis of a vessel may lie so that all of it is in one layer of dermis or fat: those of the layer
 * that holds `depth`, else of the first that could hold it; false where none can [m].                              */
bool brv_vessel_room(const struct brv_skin *skin, double depth, double diameter, double *from, double *to);

/* Does the vessel asked for fit at `depth`, in lesion and neighbour? */
bool brv_vessel_fits(const struct brv_scenario *ask, double depth);

/* Fluence of step k of the ladder, 0 the first [J/m2]. */
double brv_test_spot_fluence(const struct brv_test_spots_ask *ladder, size_t k);

/* Sum of the layers' thicknesses without a film on them; INFINITY when the last is endless [m]. */
double brv_skin_thickness(const struct brv_skin *skin);

#endif
