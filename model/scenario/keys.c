#include "scenario/keys.h"

#include "base/constants.h"

#include <math.h>
#include <string.h>

#define AT(type, field) offsetof(struct type, field)
#define ONE(value)                                                                                                     \
    {                                                                                                                  \
        value, NAN, NAN, NAN, NAN                                                                                      \
    }
#define EACH(h, e, b, d, f)                                                                                            \
    {                                                                                                                  \
        h, e, b, d, f                                                                                                  \
    } /* horny, epidermis, basal, dermis, fat */
#define ALL(value)                                                                                                     \
    {                                                                                                                  \
        value, value, value, value, value                                                                              \
    }
#define NO_DEFAULT ALL(NAN)
#define NO_SPREAD  ALL(NAN), ALL(NAN)

static const char *const shapes[] = {"gaussian", "square", NULL};
static const char *const profiles[] = {"flat", "gaussian", NULL};
static const char *const methods[] = {"spot", "layered", "sampled", NULL};
static const char *const kinds[] = {"horny", "epidermis", "basal", "dermis", "fat", NULL};
static const char *const outsides[] = {"air", "gel", "forced_air", "plate", NULL};
static const char *const returns[] = {"nothing", NULL};
static const char *const places[] = {"centre", "mean", "surface", NULL};
static const char *const lattices[] = {"hexagonal", "square", "random", NULL};
static const char *const editions[] = {"both", "eu_2006", "icnirp_2013", NULL};
static const char *const damages[] = {"burn_standard", "refit", "henriques", NULL};

/* clang-format off */
const struct brv_key brv_keys[] = {
/* scope, name, kind, dimension, least, most, above, default, low, high, words, field, help, source, seen */
{BRV_SCOPE_LIGHT, "wavelength", BRV_QUANTITY, BRV_LENGTH, 400e-9, 1100e-9, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_beam, wavelength), "wavelength in vacuum", "-", "choice"},
{BRV_SCOPE_LIGHT, "spot", BRV_QUANTITY, BRV_LENGTH, 0.5e-3, 30e-3, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_beam, spot), "diameter of the spot on the skin (1/e2 diameter when the profile is gaussian)", "-", "choice"},
{BRV_SCOPE_LIGHT, "profile", BRV_WORD, BRV_PURE, 0, 1, false, ONE(BRV_PROFILE_FLAT), NO_SPREAD, profiles,
 AT(brv_beam, profile), "how the beam is filled across the spot", "-", "choice"},
{BRV_SCOPE_LIGHT, "fluence", BRV_QUANTITY, BRV_FLUENCE, 0.1, 1e7, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_beam, fluence), "pulse energy over the area of the spot; give this or energy; without either, that of the first test spot", "-", "choice"},
{BRV_SCOPE_LIGHT, "energy", BRV_QUANTITY, BRV_ENERGY, 1e-7, 1e3, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_beam, energy), "energy of one pulse; give this or fluence", "-", "choice"},
{BRV_SCOPE_LIGHT, "method", BRV_WORD, BRV_PURE, 0, 2, false, ONE(BRV_METHOD_SPOT), NO_SPREAD, methods,
 AT(brv_beam, method), "how light is solved: spot; layered, for an endless beam; sampled, by a walk of photons", "-", "choice"},
{BRV_SCOPE_LIGHT, "photons", BRV_NUMBER, BRV_PURE, 1e3, 1e12, false, ONE(1e6), NO_SPREAD, NULL,
 AT(brv_beam, photons), "sampled: how many photons are walked at most; a note tells when that ends the walk before light.error does", "-", "choice"},
{BRV_SCOPE_LIGHT, "error", BRV_QUANTITY, BRV_SHARE, 1e-4, 0.5, false, ONE(0.01), NO_SPREAD, NULL,
 AT(brv_beam, error), "sampled: standard error on the axis at which the walk ends", "-", "choice"},
{BRV_SCOPE_LIGHT, "seed", BRV_NUMBER, BRV_PURE, 0, 9e15, false, ONE(1), NO_SPREAD, NULL,
 AT(brv_beam, seed), "sampled: where the random numbers begin; whole", "-", "choice"},
{BRV_SCOPE_PULSE, "pulse", BRV_QUANTITY, BRV_TIME, 10e-12, 100e-3, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_pulse, width), "pulse width: full width at half maximum, or the length of a square pulse", "-", "choice"},
{BRV_SCOPE_PULSE, "shape", BRV_WORD, BRV_PURE, 0, 1, false, ONE(BRV_SHAPE_GAUSSIAN), NO_SPREAD, shapes,
 AT(brv_pulse, shape), "how the pulse rises and falls in time", "-", "choice"},
{BRV_SCOPE_PULSE, "rate", BRV_QUANTITY, BRV_PER_TIME, 0.01, 10, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_pulse, rate), "how often a pulse comes in a pass, centre to centre; needed when count is above 1", "-", "choice"},
{BRV_SCOPE_PULSE, "count", BRV_NUMBER, BRV_PURE, 1, 200, false, ONE(1), NO_SPREAD, NULL,
 AT(brv_pulse, count), "pulses in one pass; whole, and no more than 200 in all passes together", "-", "choice"},
{BRV_SCOPE_PULSE, "passes", BRV_NUMBER, BRV_PURE, 1, 200, false, ONE(1), NO_SPREAD, NULL,
 AT(brv_pulse, passes), "how often the pulses of a pass are given; whole", "-", "choice"},
{BRV_SCOPE_PULSE, "pause", BRV_QUANTITY, BRV_TIME, 0.1, 600, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_pulse, pause), "from the last pulse of a pass to the first of the next, start to start; needed when passes is above 1", "-", "choice"},

{BRV_SCOPE_LAYER, "kind", BRV_WORD, BRV_PURE, 0, BRV_N_KIND - 1, false, NO_DEFAULT, NO_SPREAD, kinds,
 AT(brv_layer_ask, kind), "which defaults the layer takes; not needed when its name is one of these words", "-", "choice"},
{BRV_SCOPE_LAYER, "thickness", BRV_EXTENT, BRV_LENGTH, 1e-6, 0.1, false,
 EACH(15e-6, 50e-6, 10e-6, INFINITY, INFINITY),
 EACH(NAN, 30e-6, 7e-6, NAN, NAN), EACH(NAN, 80e-6, 15e-6, NAN, NAN), NULL,
 AT(brv_layer_ask, thickness), "thickness, or endless for the last layer", "epidermis-thickness", "abstract"},
{BRV_SCOPE_LAYER, "melanosomes", BRV_QUANTITY, BRV_SHARE, 0, 0.6, false, EACH(0, 0.01824, 0.1368, 0, 0),
 EACH(NAN, 0.00624, 0.0468, NAN, NAN), EACH(NAN, 0.03024, 0.2268, NAN, NAN), NULL,
 AT(brv_layer_ask, melanosomes), "share of the volume taken by pigment grains; default: light skin", "melanin-fraction", "memory"},
{BRV_SCOPE_LAYER, "blood", BRV_QUANTITY, BRV_SHARE, 0, 1, false, EACH(0, 0, 0, 0.005, 0.002),
 EACH(NAN, NAN, NAN, 0.002, NAN), EACH(NAN, NAN, NAN, 0.01, NAN), NULL,
 AT(brv_layer_ask, blood), "share of the volume taken by blood", "jacques-2008", "memory"},
{BRV_SCOPE_LAYER, "saturation", BRV_QUANTITY, BRV_SHARE, 0, 1, false, ALL(0.70), ALL(0.40), ALL(0.95), NULL,
 AT(brv_layer_ask, saturation), "share of the blood's haemoglobin that carries oxygen", "skin-physiology", "memory"},
{BRV_SCOPE_LAYER, "water", BRV_QUANTITY, BRV_SHARE, 0, 1, false, EACH(0.20, 0.65, 0.65, 0.65, 0.20),
 EACH(0.10, 0.55, 0.55, 0.55, NAN), EACH(0.35, 0.75, 0.75, 0.75, NAN), NULL,
 AT(brv_layer_ask, water), "share of the volume that absorbs like water", "skin-physiology", "memory"},
{BRV_SCOPE_LAYER, "baseline", BRV_NUMBER, BRV_PURE, 0, 10, false, ALL(1), ALL(0.2), ALL(2), NULL,
 AT(brv_layer_ask, baseline), "factor on the absorption of skin without pigment and blood", "jacques-baseline", "choice"},
{BRV_SCOPE_LAYER, "absorption", BRV_QUANTITY, BRV_PER_LENGTH, 0, 1e7, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_layer_ask, absorption), "absorption coefficient; replaces the layer's composition", "-", "choice"},
{BRV_SCOPE_LAYER, "scattering", BRV_QUANTITY, BRV_PER_LENGTH, 0, 1e6, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_layer_ask, scattering), "scattering coefficient mu_s; give this or reduced_scattering", "jacques-2013", "memory"},
{BRV_SCOPE_LAYER, "reduced_scattering", BRV_QUANTITY, BRV_PER_LENGTH, 0, 1e5, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_layer_ask, reduced_scattering), "mu_s (1 - anisotropy); default 46.0 (nm/500)^-1.421 /cm", "jacques-2013", "memory"},
{BRV_SCOPE_LAYER, "anisotropy", BRV_NUMBER, BRV_PURE, 0, 0.98, false, ALL(0.85), ALL(0.75), ALL(0.92), NULL,
 AT(brv_layer_ask, anisotropy), "mean cosine of scattering g; reduced scattering stays when only this is set", "skin-anisotropy", "memory"},
{BRV_SCOPE_LAYER, "index", BRV_NUMBER, BRV_PURE, 1, 2.5, false, ALL(1.40), ALL(1.37), ALL(1.44), NULL,
 AT(brv_layer_ask, index), "refractive index", "skin-index", "second-hand"},
{BRV_SCOPE_LAYER, "conductivity", BRV_QUANTITY, BRV_CONDUCTIVITY, 0.01, 500, false,
 EACH(0.20, 0.23, 0.23, 0.37, 0.20), EACH(0.11, 0.20, 0.20, 0.29, 0.16), EACH(0.24, 0.26, 0.26, 0.45, 0.22), NULL,
 AT(brv_layer_ask, conductivity), "thermal conductivity of the layer without its grains", "thermal-properties", "memory"},
{BRV_SCOPE_LAYER, "density", BRV_QUANTITY, BRV_DENSITY, 100, 2e4, false, EACH(1150, 1150, 1150, 1116, 971),
 EACH(1100, 1100, 1100, 1080, 911), EACH(1200, 1200, 1200, 1200, 1000), NULL,
 AT(brv_layer_ask, density), "density of the layer without its grains", "thermal-properties", "memory"},
{BRV_SCOPE_LAYER, "heat_capacity", BRV_QUANTITY, BRV_HEAT_CAPACITY, 100, 1e4, false,
 EACH(3590, 3590, 3590, 3300, 2300), EACH(3500, 3500, 3500, 3200, 2200), EACH(3700, 3700, 3700, 3400, 2700), NULL,
 AT(brv_layer_ask, heat_capacity), "heat capacity per mass of the layer without its grains", "thermal-properties", "memory"},
{BRV_SCOPE_LAYER, "perfusion", BRV_QUANTITY, BRV_PER_TIME, 0, 0.1, false, EACH(0, 0, 0, 1e-3, 1e-4),
 EACH(NAN, NAN, NAN, 2e-4, 5e-5), EACH(NAN, NAN, NAN, 2e-3, 5e-4), NULL,
 AT(brv_layer_ask, perfusion), "volume of blood that passes a volume of tissue per second", "thermal-properties", "memory"},

{BRV_SCOPE_GRAIN, "diameter", BRV_QUANTITY, BRV_LENGTH, 0.05e-6, 5e-6, false, ONE(0.3e-6), ONE(0.13e-6), ONE(0.7e-6), NULL,
 AT(brv_grain_ask, diameter), "diameter of one pigment grain", "melanosome-size", "abstract"},
{BRV_SCOPE_GRAIN, "darkness", BRV_NUMBER, BRV_PURE, 0, 100, true, ONE(1), ONE(0.316), ONE(3.16), NULL,
 AT(brv_grain_ask, darkness), "factor on the pigment's absorption, 1.70e12 nm^-3.48 /cm", "jacques-1998", "seen"},
{BRV_SCOPE_GRAIN, "absorption", BRV_QUANTITY, BRV_PER_LENGTH, 1, 1e8, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_grain_ask, absorption), "absorption coefficient inside a grain; replaces darkness", "-", "choice"},
{BRV_SCOPE_GRAIN, "conductivity", BRV_QUANTITY, BRV_CONDUCTIVITY, 0.01, 500, false, ONE(0.28), ONE(0.2), ONE(0.6), NULL,
 AT(brv_grain_ask, conductivity), "thermal conductivity of a grain", "grain-thermal", "memory"},
{BRV_SCOPE_GRAIN, "density", BRV_QUANTITY, BRV_DENSITY, 100, 2e4, false, ONE(1350), ONE(1200), ONE(1450), NULL,
 AT(brv_grain_ask, density), "density of a grain", "grain-thermal", "memory"},
{BRV_SCOPE_GRAIN, "heat_capacity", BRV_QUANTITY, BRV_HEAT_CAPACITY, 100, 1e4, false, ONE(2550), ONE(2200), ONE(3000), NULL,
 AT(brv_grain_ask, heat_capacity), "heat capacity per mass of a grain", "grain-thermal", "memory"},
{BRV_SCOPE_GRAIN, "host_conductivity", BRV_QUANTITY, BRV_CONDUCTIVITY, 0.01, 500, false, ONE(0.62), ONE(0.55), ONE(0.63), NULL,
 AT(brv_grain_ask, host_conductivity), "thermal conductivity of the cell water around a grain", "water-33C", "memory"},
{BRV_SCOPE_GRAIN, "layer", BRV_LAYER_REF, BRV_PURE, -1, BRV_MOST_LAYERS - 1, false, ONE(-1), NO_SPREAD, NULL,
 AT(brv_grain_ask, layer), "layer whose grain is followed; default: the one with the densest pigment", "-", "choice"},
{BRV_SCOPE_GRAIN, "darkness_spread", BRV_NUMBER, BRV_PURE, 0, 1, false, ONE(0.70), ONE(0.5), ONE(0.9), NULL,
 AT(brv_grain_ask, darkness_spread), "how much grains differ in darkness: standard deviation of its natural logarithm; 0.70 is ten-fold between the 5th and the 95th of 100", "jacques-1998", "choice"},
{BRV_SCOPE_GRAIN, "diameter_spread", BRV_NUMBER, BRV_PURE, 0, 0.5, false, ONE(0.20), ONE(0.05), ONE(0.25), NULL,
 AT(brv_grain_ask, diameter_spread), "how much grains differ in diameter: standard deviation of its natural logarithm, half that of the areas seen in sections", "melanosome-size", "abstract"},

{BRV_SCOPE_SURFACE, "outside", BRV_WORD, BRV_PURE, 0, BRV_N_OUTSIDE - 1, false, ONE(BRV_AIR), NO_SPREAD, outsides,
 AT(brv_surface, outside), "what lies on the skin between from and to, with still air before and after; during the pulses it sets how much light is mirrored back", "-", "choice"},
{BRV_SCOPE_SURFACE, "index", BRV_NUMBER, BRV_PURE, 1, 2.5, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_surface, index), "refractive index of what lies on the skin all the time, in balance with it (air 1, gel 1.34, plate 1.76); replaces outside", "gel-index", "memory"},
{BRV_SCOPE_SURFACE, "temperature", BRV_QUANTITY, BRV_TEMPERATURE, 273.15, 333.15, false, ONE(306.15), ONE(303.15), ONE(308.15), NULL,
 AT(brv_surface, temperature), "temperature of the skin's surface at the start", "skin-temperature", "memory"},
{BRV_SCOPE_SURFACE, "core", BRV_QUANTITY, BRV_TEMPERATURE, 273.15, 333.15, false, ONE(310.15), ONE(309.65), ONE(310.65), NULL,
 AT(brv_surface, core), "temperature of the blood and of the depth of the body", "core-temperature", "memory"},
{BRV_SCOPE_SURFACE, "outside_temperature", BRV_QUANTITY, BRV_TEMPERATURE, BRV_ZERO_C - 60.0, 333.15, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_surface, outside_temperature), "temperature of what lies on the skin; without it a gel is in balance with the skin; forced_air and plate need it", "-", "choice"},
{BRV_SCOPE_SURFACE, "transfer", BRV_QUANTITY, BRV_TRANSFER, 0, 1e5, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_surface, transfer), "heat that passes to what lies on the skin; default: air 10, gel 300, forced_air 100, plate 5000 W/m2/K", "surface-coefficients", "memory"},
{BRV_SCOPE_SURFACE, "from", BRV_QUANTITY, BRV_TIME, -600, 1000, false, ONE(-1), NO_SPREAD, NULL,
 AT(brv_surface, from), "when it is laid on, counted from the start of the first pulse: -2 s is two seconds before it", "-", "choice"},
{BRV_SCOPE_SURFACE, "to", BRV_QUANTITY, BRV_TIME, -600, 4000, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_surface, to), "when it is taken away, counted from the start of the first pulse; default: watch.until", "-", "choice"},

{BRV_SCOPE_BELOW, "index", BRV_NUMBER, BRV_PURE, 1, 2.5, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_below, index), "refractive index of what lies under a finite stack of layers", "-", "choice"},
{BRV_SCOPE_BELOW, "returns", BRV_WORD, BRV_PURE, 0, 0, false, ONE(0), NO_SPREAD, returns,
 AT(brv_below, returns), "what comes back from below a finite stack", "-", "choice"},

{BRV_SCOPE_WATCH, "depths", BRV_LIST, BRV_LENGTH, 0, 0.02, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_watch, depth), "depths whose temperature is written; default: surface, basal row, 0.3 mm, 1 mm", "-", "choice"},
{BRV_SCOPE_WATCH, "until", BRV_QUANTITY, BRV_TIME, 1e-9, 4000, false, ONE(60), NO_SPREAD, NULL,
 AT(brv_watch, until), "time at which the curves end, counted from the start of the first pulse; default for several pulses: 60 s after the last one starts", "-", "choice"},
{BRV_SCOPE_WATCH, "damage", BRV_WORD, BRV_PURE, 0, 2, false, ONE(0), NO_SPREAD, damages,
 AT(brv_watch, damage), "which published rates of damage by warmth are used: of the burn standards, or of the 1947 data re-fitted or as published", "burn-standards", "seen"},
{BRV_SCOPE_WATCH, "criterion", BRV_QUANTITY, BRV_TEMPERATURE, 313.15, 673.15, false, ONE(385.15), ONE(385.15), ONE(423.15), NULL,
 AT(brv_watch, criterion), "temperature at which a grain counts as disrupted; 112, 136 and 150 degC are in print", "jacques-mcauliffe-1991", "memory"},
{BRV_SCOPE_WATCH, "place", BRV_WORD, BRV_PURE, 0, BRV_N_PLACE - 1, false, ONE(BRV_PLACE_MEAN), NO_SPREAD, places,
 AT(brv_watch, place), "where in a grain the criterion is looked for: its centre, the mean of its interior, its surface", "-", "choice"},
{BRV_SCOPE_WATCH, "sign_column", BRV_QUANTITY, BRV_LENGTH, 1e-9, 10e-6, false, ONE(0.3e-6), ONE(0.1e-6), ONE(0.6e-6), NULL,
 AT(brv_watch, sign_column), "disrupted pigment, as the thickness of a layer of nothing else, from which a sign counts as visible; no source, fixed before any comparison", "-", "choice"},
{BRV_SCOPE_WATCH, "tan", BRV_NUMBER, BRV_PURE, 1, 4, false, ONE(1.5), ONE(1), ONE(2), NULL,
 AT(brv_watch, tan), "factor on the neighbour's pigment when what a tan does is shown; 1: not shown", "melanosome-size", "choice"},

{BRV_SCOPE_VESSEL, "diameter", BRV_QUANTITY, BRV_LENGTH, 5e-6, 1e-3, false, ONE(50e-6), NO_SPREAD, NULL,
 AT(brv_vessel_ask, diameter), "diameter of a blood vessel whose warmth is looked at", "-", "choice"},
{BRV_SCOPE_VESSEL, "depth", BRV_QUANTITY, BRV_LENGTH, 1e-6, 0.02, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_vessel_ask, depth), "depth of its axis; all of it must lie in one layer of dermis or fat; default: 0.3 mm where it fits, else there is none", "-", "choice"},
{BRV_SCOPE_VESSEL, "saturation", BRV_QUANTITY, BRV_SHARE, 0, 1, false, ONE(0.70), ONE(0.40), ONE(0.95), NULL,
 AT(brv_vessel_ask, saturation), "share of its haemoglobin that carries oxygen", "skin-physiology", "memory"},

{BRV_SCOPE_LADDER, "first", BRV_QUANTITY, BRV_FLUENCE, 0.1, 1e7, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_test_spots_ask, first), "fluence of the first test spot; brevis ladder needs first, ratio and count, and proposes none of them", "-", "choice"},
{BRV_SCOPE_LADDER, "ratio", BRV_NUMBER, BRV_PURE, 1, 4, true, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_test_spots_ask, ratio), "fluence of a test spot over that of the one before", "-", "choice"},
{BRV_SCOPE_LADDER, "count", BRV_NUMBER, BRV_PURE, 2, BRV_MOST_STEPS, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_test_spots_ask, count), "how many test spots; whole", "-", "choice"},
{BRV_SCOPE_LADDER, "wait", BRV_QUANTITY, BRV_WAITING, 3600, 31449600, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_test_spots_ask, wait), "how long until the spots are read again; printed as given, for no standard waiting time exists", "-", "choice"},

{BRV_SCOPE_COVER, "overlap", BRV_QUANTITY, BRV_SHARE, 0, 0.95, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_cover_ask, overlap), "how far neighbouring spots overlap, as a share of their diameter; brevis cover needs overlap, area and rate, and proposes none of them", "-", "choice"},
{BRV_SCOPE_COVER, "lattice", BRV_WORD, BRV_PURE, 0, BRV_N_LATTICE - 1, false, ONE(BRV_HEXAGONAL), NO_SPREAD, lattices,
 AT(brv_cover_ask, lattice), "how the spots are laid out; random: as many spots as the hexagonal lattice of this overlap has, anywhere", "-", "choice"},
{BRV_SCOPE_COVER, "area", BRV_QUANTITY, BRV_AREA, 1e-6, 2, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_cover_ask, area), "area of the skin that is covered", "-", "choice"},
{BRV_SCOPE_COVER, "rate", BRV_QUANTITY, BRV_PER_TIME, 0.01, 10, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_cover_ask, rate), "how often a pulse comes while the hand moves on", "-", "choice"},
{BRV_SCOPE_COVER, "passes", BRV_NUMBER, BRV_PURE, 1, 20, false, ONE(1), NO_SPREAD, NULL,
 AT(brv_cover_ask, passes), "how often the area is covered; whole", "-", "choice"},

{BRV_SCOPE_ROOM, "edition", BRV_WORD, BRV_PURE, 0, 2, false, ONE(BRV_EDITION_BOTH), NO_SPREAD, editions,
 AT(brv_room_ask, edition), "whose exposure limits are shown: those of directive 2006/25/EC, of the ICNIRP guidelines of 2013 as copies of their tables have them, or both side by side", "-", "choice"},
{BRV_SCOPE_ROOM, "stay", BRV_QUANTITY, BRV_TIME, 1, 30000, false, ONE(10), NO_SPREAD, NULL,
 AT(brv_room_ask, stay), "how long pulses may reach one person", "-", "choice"},
{BRV_SCOPE_ROOM, "rate", BRV_QUANTITY, BRV_PER_TIME, 0.01, 10, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, rate), "how often a pulse comes while somebody stays; without it, a single pulse; light.rate and light.count are of one place on the skin and mean nothing here", "-", "choice"},
{BRV_SCOPE_ROOM, "beam", BRV_QUANTITY, BRV_LENGTH, 0.1e-3, 0.1, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, beam), "1/e2 diameter of the beam where it leaves the handpiece, or on its last lens; with divergence or lens", "-", "choice"},
{BRV_SCOPE_ROOM, "divergence", BRV_QUANTITY, BRV_ANGLE, 1e-5, 1, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, divergence), "full angle between the 1/e2 edges of the beam far away; give this or lens", "-", "choice"},
{BRV_SCOPE_ROOM, "lens", BRV_QUANTITY, BRV_LENGTH, 1e-3, 10, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, lens), "focal length of the last lens of the handpiece; behind its focus the beam spreads by room.beam over this; give this or divergence", "-", "choice"},
{BRV_SCOPE_ROOM, "reflectance", BRV_QUANTITY, BRV_SHARE, 0, 1, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, reflectance), "share of the light that skin scatters back; without it, that of the skin around the lesion, computed", "-", "choice"},
{BRV_SCOPE_ROOM, "view", BRV_QUANTITY, BRV_ANGLE, 0, 1.5, false, ONE(0), NO_SPREAD, NULL,
 AT(brv_room_ask, view), "from which side the spot is looked at, counted from straight above it", "-", "choice"},
{BRV_SCOPE_ROOM, "distance", BRV_QUANTITY, BRV_LENGTH, 0.05, 100, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_room_ask, distance), "how far somebody in the room is from the spot; without it nothing is said of one place", "-", "choice"},
{BRV_SCOPE_ROOM, "lid", BRV_QUANTITY, BRV_LENGTH, 0.1e-3, 5e-3, false, ONE(0.62e-3), ONE(0.58e-3), ONE(0.76e-3), NULL,
 AT(brv_room_ask, lid), "thickness of the dermis of an eyelid; ultrasound 0.58 (women) and 0.67 mm (men), paraffin sections 0.76 mm", "eyelid-thickness", "seen"},

{BRV_SCOPE_VISITS, "count", BRV_NUMBER, BRV_PURE, 1, 60, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_visits_ask, count), "how many visits, all with the same pulse; whole; brevis visits needs count and returns, and proposes none of them", "-", "choice"},
{BRV_SCOPE_VISITS, "returns", BRV_QUANTITY, BRV_SHARE, 0, 1, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_visits_ask, returns), "share of the missing pigment that is back at the next visit; nobody has measured it, the interval is the clinician's", "-", "choice"},

{BRV_SCOPE_COLOUR, "L", BRV_NUMBER, BRV_PURE, 0, 100, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_skin_colour, lightness), "L* of the skin under D65, 2 degree observer, as measured on it in place of naming its pigment", "-", "choice"},
{BRV_SCOPE_COLOUR, "b", BRV_NUMBER, BRV_PURE, 0, 100, true, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_skin_colour, yellow), "b* measured with it; the pigment follows from ITA = arctan((L* - 50)/b*)", "-", "choice"},
{BRV_SCOPE_FILM, "thickness", BRV_QUANTITY, BRV_LENGTH, 0.1e-6, 20e-6, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_film_ask, thickness), "thickness of a film on the skin; a film needs thickness and absorption, and has no default for either", "-", "choice"},
{BRV_SCOPE_FILM, "absorption", BRV_QUANTITY, BRV_PER_LENGTH, 0, 1e7, false, NO_DEFAULT, NO_SPREAD, NULL,
 AT(brv_film_ask, absorption), "absorption coefficient of the film at this wavelength, measured by the user or supposed", "-", "choice"},
{BRV_SCOPE_FILM, "reduced_scattering", BRV_QUANTITY, BRV_PER_LENGTH, 0, 1e7, false, ONE(0), NO_SPREAD, NULL,
 AT(brv_film_ask, reduced_scattering), "reduced scattering of the film; by default it is clear", "-", "choice"},
{BRV_SCOPE_FILM, "index", BRV_NUMBER, BRV_PURE, 1, 2.5, false, ONE(1.40), ONE(1.37), ONE(1.50), NULL,
 AT(brv_film_ask, index), "refractive index; by default that of skin, the range reaches to oils", "oily-film", "memory"},
{BRV_SCOPE_FILM, "conductivity", BRV_QUANTITY, BRV_CONDUCTIVITY, 0.01, 500, false, ONE(0.16), ONE(0.12), ONE(0.25), NULL,
 AT(brv_film_ask, conductivity), "thermal conductivity; by default that of an oily film", "oily-film", "memory"},
{BRV_SCOPE_FILM, "density", BRV_QUANTITY, BRV_DENSITY, 100, 2e4, false, ONE(900), ONE(800), ONE(1300), NULL,
 AT(brv_film_ask, density), "density; by default that of an oily film", "oily-film", "memory"},
{BRV_SCOPE_FILM, "heat_capacity", BRV_QUANTITY, BRV_HEAT_CAPACITY, 100, 1e4, false, ONE(2000), ONE(1600), ONE(2400), NULL,
 AT(brv_film_ask, heat_capacity), "heat capacity per mass; by default that of an oily film", "oily-film", "memory"},
};
/* clang-format on */

const size_t brv_n_keys = sizeof brv_keys / sizeof *brv_keys;

int brv_key_find(enum brv_scope scope, const char *name)
{
    for (size_t i = 0; i < brv_n_keys; i++)
        if (brv_keys[i].scope == scope && !strcmp(brv_keys[i].name, name)) return (int)i;
    return -1;
}

const char *brv_key_word(enum brv_scope scope, const char *name, int value)
{
    return brv_keys[brv_key_find(scope, name)].words[value];
}

unsigned brv_key_bit(size_t key)
{
    unsigned place = 0;
    for (size_t i = 0; i < key; i++) place += brv_keys[i].scope == brv_keys[key].scope;
    return 1u << place;
}

void *brv_key_scope(struct brv_scenario *ask, enum brv_scope scope, size_t site, size_t layer)
{
    switch (scope) {
    case BRV_SCOPE_LIGHT:
        return &ask->beam;
    case BRV_SCOPE_PULSE:
        return &ask->pulse;
    case BRV_SCOPE_LAYER:
        return &ask->skin[site].layer[layer];
    case BRV_SCOPE_GRAIN:
        return &ask->skin[site].grain;
    case BRV_SCOPE_SURFACE:
        return &ask->surface;
    case BRV_SCOPE_BELOW:
        return &ask->below;
    case BRV_SCOPE_WATCH:
        return &ask->watch;
    case BRV_SCOPE_VESSEL:
        return &ask->vessel;
    case BRV_SCOPE_LADDER:
        return &ask->ladder;
    case BRV_SCOPE_COVER:
        return &ask->cover;
    case BRV_SCOPE_ROOM:
        return &ask->room;
    case BRV_SCOPE_VISITS:
        return &ask->visits;
    case BRV_SCOPE_COLOUR:
        return &ask->skin[site].colour;
    case BRV_SCOPE_FILM:
        return &ask->film;
    case BRV_N_SCOPE:
        break;
    }
    return NULL;
}

bool brv_key_allows(const struct brv_key *key, double value)
{
    const bool endless = key->kind == BRV_EXTENT && isinf(value) && value > 0.0;
    const bool low = key->above ? !(value > key->least) : !(value >= key->least);
    return endless || (!low && value <= key->most);
}

bool brv_key_given(const void *scope_struct, enum brv_scope scope, const char *name)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given); /* first member of every scope's struct */
    const int key = brv_key_find(scope, name);
    return key >= 0 && (given & brv_key_bit((size_t)key));
}

const char *brv_scope_name(enum brv_scope scope)
{
    static const char *const name[BRV_N_SCOPE] = {"light", "light",  "skin",   "grain",      "surface",
                                                  "below", "watch",  "vessel", "ladder",     "cover",
                                                  "room",  "visits", "film",   "skin.colour"};
    return scope < BRV_N_SCOPE ? name[scope] : "";
}
