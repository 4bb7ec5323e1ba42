#include "command/command.h"
#include "command/frame.h"

#include "base/constants.h"
#include "report/body.h"
#include "command/options.h"
#include "report/absorber.h"
#include "report/asked.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/number.h"
#include "report/words.h"
#include "scenario/keys.h"
#include "scenario/request.h"
#include "tissue/chromophore.h"
#include "tissue/tissue.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { COLUMNS = 5, COLUMN_WIDTH = 12 };

/* ---- what is shown of a layer ---- */

struct layer_row {
    const char *name, *unit;
    double scale;    /* SI to the unit shown */
    const char *key; /* the key that gives it, or NULL when it is computed */
    const char *source, *seen;
    double (*value)(const struct brv_layer *layer);
};

static double thickness(const struct brv_layer *l)
{
    return l->thickness;
}
static double melanosomes(const struct brv_layer *l)
{
    return l->melanosomes;
}
static double absorption(const struct brv_layer *l)
{
    return l->absorption;
}
static double of_pigment(const struct brv_layer *l)
{
    return l->absorption_pigment;
}
static double of_blood(const struct brv_layer *l)
{
    return l->absorption_blood;
}
static double of_water(const struct brv_layer *l)
{
    return l->absorption_water;
}
static double of_baseline(const struct brv_layer *l)
{
    return l->absorption_baseline;
}
static double scattering(const struct brv_layer *l)
{
    return l->scattering;
}
static double anisotropy(const struct brv_layer *l)
{
    return l->anisotropy;
}
static double reduced(const struct brv_layer *l)
{
    return l->scattering * (1.0 - l->anisotropy);
}
static double refractive(const struct brv_layer *l)
{
    return l->index;
}
static double conductivity(const struct brv_layer *l)
{
    return l->conductivity;
}
static double heat_capacity(const struct brv_layer *l)
{
    return l->heat_capacity;
}
static double diffusivity(const struct brv_layer *l)
{
    return l->conductivity / l->heat_capacity;
}
static double perfusion(const struct brv_layer *l)
{
    return l->perfusion;
}

static const struct layer_row layer_rows[] = {
    {"thickness", "um", 1e6, "thickness", NULL, NULL, thickness},
    {"melanosomes", "%", 100, "melanosomes", NULL, NULL, melanosomes},
    {"absorption, all", "/cm", 0.01, "absorption", "jacques-2008 (mixture)", "seen", absorption},
    {"  of pigment", "/cm", 0.01, NULL, "jacques-1998", "seen", of_pigment},
    {"  of blood", "/cm", 0.01, NULL, "prahl-1998", "seen", of_blood},
    {"  of water", "/cm", 0.01, NULL, "rottgers-2016", "seen", of_water},
    {"  of the rest", "/cm", 0.01, NULL, "jacques-baseline", "seen", of_baseline},
    {"scattering", "/cm", 0.01, "scattering", "reduced / (1 - anisotropy)", "computed", scattering},
    {"anisotropy", "1", 1, "anisotropy", NULL, NULL, anisotropy},
    {"reduced scattering", "/cm", 0.01, "reduced_scattering", NULL, NULL, reduced},
    {"diffusion depth", "mm", 1e3, NULL, "1/sqrt(3 mu_a (mu_a + mu_s'))", "computed", brv_tissue_diffusion_depth},
    {"refractive index", "1", 1, "index", NULL, NULL, refractive},
    {"conductivity", "W/m/K", 1, "conductivity", NULL, NULL, conductivity},
    {"heat capacity", "J/cm3/K", 1e-6, "heat_capacity", "thermal-properties, grain-thermal", "memory", heat_capacity},
    {"diffusivity", "mm2/s", 1e6, NULL, "conductivity / capacity", "computed", diffusivity},
    {"heat to blood", "W/cm3/K", 1e-6, "perfusion", NULL, NULL, perfusion},
};
static const size_t n_layer_rows = sizeof layer_rows / sizeof *layer_rows;

/* Was the number of this row given outright in any of the layers from..to? */
static bool row_given(const struct layer_row *row, const struct brv_skin *skin, size_t layer)
{
    const bool clear = skin->layer[layer].kind == BRV_FILM && !(skin->layer[layer].reduced_scattering > 0.0);
    if (row->key && clear && !strcmp(row->key, "reduced_scattering")) return false; /* by default */
    return row->key && brv_key_given(&skin->layer[layer], BRV_SCOPE_LAYER, row->key);
}

/* A given thickness may be a body site's. */
static const char *given_source(const struct brv_skin *skin, const struct layer_row *row, size_t layer,
                                const char **seen)
{
    const int kind = skin->layer[layer].kind;
    *seen = "given";
    if (!skin->body || strcmp(row->key, "thickness") != 0) return "this scenario";
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    const struct brv_measured *measured = kind == BRV_HORNY       ? &site->horny
                                          : kind == BRV_EPIDERMIS ? &site->epidermis
                                          : kind == BRV_DERMIS    ? &site->dermis
                                                                  : NULL;
    if (!measured || !(measured->value > 0.0)) return "this scenario";
    const double thickness = measured->value - (kind == BRV_EPIDERMIS ? BRV_BODY_BASAL : 0.0);
    if (skin->layer[layer].thickness < thickness || skin->layer[layer].thickness > thickness) return "this scenario";
    *seen = measured->seen;
    return measured->source;
}

static const char *row_source(const struct layer_row *row, const char **seen)
{
    *seen = row->seen;
    if (row->source || !row->key) return row->source;
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_LAYER, row->key)];
    *seen = key->seen;
    return key->source;
}

/* ---- the grain ---- */

struct grain_row {
    const char *name, *unit;
    double value;
    const char *source, *seen;
};

enum { N_GRAIN_ROW = 7 };

static const char *key_source(const struct brv_grain_ask *ask, const char *name, const char **seen)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_GRAIN, name)];
    const bool given = brv_key_given(ask, BRV_SCOPE_GRAIN, name);
    *seen = given ? "given" : key->seen;
    return given ? "this scenario" : key->source;
}

static void fill_grain(struct grain_row row[N_GRAIN_ROW], const struct brv_grain *grain,
                       const struct brv_grain_ask *ask)
{
    const bool outright = brv_key_given(ask, BRV_SCOPE_GRAIN, "absorption");
    row[0] = (struct grain_row){"diameter", "um", 2e6 * grain->radius, NULL, NULL};
    row[1] = (struct grain_row){"diameter of its cell", "um", 2e6 * grain->cell_radius, "volume / pigment share",
                                "computed"};
    row[2] = (struct grain_row){"absorption inside", "/cm", 0.01 * grain->absorption, NULL, NULL};
    row[3] = (struct grain_row){"left after shading", "%", 100.0 * grain->shading, "van-de-hulst-absorption", "memory"};
    row[4] = (struct grain_row){"conductivity", "W/m/K", grain->conductivity, NULL, NULL};
    row[5] = (struct grain_row){"heat capacity", "J/cm3/K", 1e-6 * grain->heat_capacity, NULL, NULL};
    row[6] = (struct grain_row){"conductivity around", "W/m/K", grain->host_conductivity, NULL, NULL};
    row[0].source = key_source(ask, "diameter", &row[0].seen);
    row[2].source = key_source(ask, outright ? "absorption" : "darkness", &row[2].seen);
    row[4].source = key_source(ask, "conductivity", &row[4].seen);
    row[5].source = key_source(ask, "heat_capacity", &row[5].seen);
    row[6].source = key_source(ask, "host_conductivity", &row[6].seen);
}

/* ---- the table ---- */

static void print_block(const struct brv_request *request, size_t site, const struct brv_tissue *tissue, size_t from)
{
    const struct brv_skin *skin = &request->scenario.skin[site];
    const size_t end = from + COLUMNS < tissue->n_layer ? from + COLUMNS : tissue->n_layer;
    char text[BRV_NUMBER_SIZE], cell[BRV_NUMBER_SIZE];
    const char *seen;
    printf("  %-21s%-9s", "layer", "unit");
    for (size_t i = from; i < end; i++) printf("%-*.*s", COLUMN_WIDTH, COLUMN_WIDTH - 1, request->layer_name[i]);
    puts("source (how seen)");
    for (size_t r = 0; r < n_layer_rows; r++) {
        const struct layer_row *row = &layer_rows[r];
        printf("  %-21s%-9s", row->name, row->unit);
        for (size_t i = from; i < end; i++) {
            const double value = row->value(&tissue->layer[i]) * row->scale;
            snprintf(cell, sizeof cell, "%.20s%s", isinf(value) ? "endless" : brv_number_short(text, value),
                     row_given(row, skin, i) ? "*" : "");
            printf("%-*s", COLUMN_WIDTH, cell);
        }
        const char *source = row_source(row, &seen);
        printf("%s (%s)\n", source, seen);
    }
}

static void print_site(const struct brv_request *request, size_t site)
{
    struct brv_tissue tissue;
    struct grain_row row[N_GRAIN_ROW];
    char text[BRV_NUMBER_SIZE];
    brv_tissue_resolve(&tissue, &request->scenario, site);
    printf("\n%s\n", brv_site_name[site]);
    for (size_t from = 0; from < tissue.n_layer; from += COLUMNS) print_block(request, site, &tissue, from);

    fill_grain(row, &tissue.grain, &request->scenario.skin[site].grain);
    printf("  grain in %s\n", request->layer_name[tissue.grain.layer]);
    for (size_t i = 0; i < N_GRAIN_ROW; i++)
        printf("  %-21s%-9s%-12s%s (%s)\n", row[i].name, row[i].unit,
               isinf(row[i].value) ? "alone" : brv_number_short(text, row[i].value), row[i].source, row[i].seen);
}

static void print_table(const struct brv_request *request)
{
    char cautions[BRV_CAUTION_SIZE], colour[BRV_ASKED_SIZE], site[BRV_BODY_SIZE];
    const double nm = 1e9 * request->scenario.beam.wavelength;
    printf("Skin at %.4g nm%s%s\n", nm, *request->title ? ": " : "", request->title);
    if (*brv_asked_colour(colour, &request->scenario)) printf("Measured colour: %s\n", colour);
    if (*brv_asked_made_colour(colour, &request->scenario)) printf("  %s\n", colour);
    if (*brv_body_text(site, &request->scenario.skin[BRV_NEIGHBOUR])) brv_words_wrap(stdout, "Site", site);
    print_site(request, BRV_NEIGHBOUR);
    print_site(request, BRV_LESION);
    puts("\n  * given in the scenario. Absorption in a grain varies ten-fold (jacques-1998). Water is partly counted\n"
         "  twice, in water and in the rest. Shading is that of rays through a sphere. Sources: docs/sources.md");
    if (request->scenario.film.given)
        puts("  The film: what is not marked * is a default for an oily film (oily-film, memory), clear and as dense "
             "in\n"
             "  light as skin; `brevis explain film`.");
    if (request->scenario.skin[BRV_NEIGHBOUR].body)
        puts("  Thicknesses marked * and pigment are those of the site: `brevis explain sites`.");
    if (nm > 1000.0) puts("  Blood above 1000 nm: the last value of the table is held.");
    brv_words_wrap(stdout, "CAUTION", brv_caution_text(cautions));
}

/* ---- the same as CSV ---- */

static void print_csv_row(const char *site, const char *part, const char *name, double value, const char *unit,
                          const char *source, const char *seen)
{
    char text[BRV_NUMBER_SIZE];
    printf("%s,%s,\"%s\",%s,%s,\"%s\",%s\r\n", site, part, name + strspn(name, " "), brv_number_exact(text, value),
           unit, source, seen);
}

/* Where a number of a layer comes from, and how that was seen. */
static const char *number_source(const struct brv_skin *skin, const struct layer_row *row, size_t layer,
                                 const char **seen)
{
    if (row_given(row, skin, layer)) return given_source(skin, row, layer, seen);
    const char *source = row_source(row, seen);
    if (skin->layer[layer].kind != BRV_FILM || !strcmp(*seen, "computed")) return source;
    *seen = "memory";
    return "oily-film";
}

static void print_csv_site(const struct brv_request *request, size_t site)
{
    const struct brv_skin *skin = &request->scenario.skin[site];
    struct brv_tissue tissue;
    struct grain_row grain[N_GRAIN_ROW];
    brv_tissue_resolve(&tissue, &request->scenario, site);
    for (size_t i = 0; i < tissue.n_layer; i++)
        for (size_t r = 0; r < n_layer_rows; r++) {
            const struct layer_row *row = &layer_rows[r];
            const char *seen, *source = number_source(skin, row, i, &seen);
            print_csv_row(brv_site_name[site], request->layer_name[i], row->name,
                          row->value(&tissue.layer[i]) * row->scale, row->unit, source, seen);
        }
    fill_grain(grain, &tissue.grain, &skin->grain);
    for (size_t i = 0; i < N_GRAIN_ROW; i++)
        print_csv_row(brv_site_name[site], "(grain)", grain[i].name, grain[i].value, grain[i].unit, grain[i].source,
                      grain[i].seen);
}

static void print_csv(const struct brv_request *request)
{
    fputs("site,layer,quantity,value,unit,source,how_seen\r\n", stdout);
    print_csv_site(request, BRV_NEIGHBOUR);
    print_csv_site(request, BRV_LESION);
}

/* ---- the command ---- */

int brv_command_tissue(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_TISSUE_OPTIONS, 1, 1, "one scenario file, or - for standard input");
    if (stop >= 0) return stop;
    if (options.given & BRV_OPTION_CSV && options.given & BRV_OPTION_SPECTRUM) {
        fputs("brevis tissue: --spectrum is comma-separated already; give --csv or --spectrum\n", stderr);
        return BRV_EXIT_USAGE;
    }

    struct brv_request request;
    struct brv_faults faults = {.n = 0};
    const int code = brv_request_read(&request, options.word[0], options.set, options.n_set, &faults);
    brv_faults_print(&faults, stderr);
    brv_faults_free(&faults);
    if (code) return code;
    brv_frame_tell_unread(&request.scenario, &options);
    if (options.given & BRV_OPTION_SPECTRUM)
        brv_absorber_csv(stdout, &request.scenario);
    else if (options.given & BRV_OPTION_CSV)
        print_csv(&request);
    else
        print_table(&request);
    return BRV_EXIT_DONE;
}
