#include "report/summary.h"

#include "base/constants.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/note.h"
#include "report/number.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define WIDTH           104 /* of wrapped notes */
#define MOST_DEPTH_ROWS 4   /* so that the whole stays under 40 lines */

static const double to_J_cm2 = 1e-4;

/* ---- lines ---- */

/* `LABEL   what   lesion   neighbour`, the two in columns. */
static void row(FILE *to, const char *label, const char *what, const char *lesion, const char *neighbour)
{
    fprintf(to, "%-9s%-46s%-25s%s\n", label, what, lesion, neighbour);
}

static void number_row(FILE *to, const char *label, const char *what, double lesion, double neighbour)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_short(one, lesion), brv_number_short(two, neighbour));
}

static void unit_row(FILE *to, const char *label, const char *what, double lesion, double neighbour,
                     enum brv_dimension dimension)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_unit(one, lesion, dimension), brv_number_unit(two, neighbour, dimension));
}

static void spread_row(FILE *to, const char *label, const char *what, const struct brv_spread *lesion,
                       const struct brv_spread *neighbour, double scale, double shift)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    row(to, label, what, brv_number_spread(one, lesion, scale, shift), brv_number_spread(two, neighbour, scale, shift));
}

/* A sentence, broken between words, continued under its start. */
static void wrapped(FILE *to, const char *label, const char *text)
{
    fprintf(to, "%-9s", label);
    size_t column = 9;
    for (const char *word = text; *word;) {
        const size_t length = strcspn(word, " ");
        if (column > 9 && column + 1 + length > WIDTH) {
            fprintf(to, "\n%-9s", "");
            column = 9;
        }
        fprintf(to, "%s%.*s", column > 9 ? " " : "", (int)length, word);
        column += length + (column > 9);
        word += length + strspn(word + length, " ");
    }
    fputc('\n', to);
}

/* ---- sections ---- */

static const char *outside_name(const struct brv_surface *surface, char out[BRV_NUMBER_SIZE])
{
    char index[BRV_NUMBER_SIZE];
    if (brv_key_given(surface, BRV_SCOPE_SURFACE, "index"))
        snprintf(out, BRV_NUMBER_SIZE, "index %.12s", brv_number_short(index, surface->index));
    else
        snprintf(out, BRV_NUMBER_SIZE, "%s", surface->outside == BRV_GEL ? "gel" : "air");
    return out;
}

static void write_asked(FILE *to, const struct brv_request *request)
{
    const struct brv_scenario *ask = &request->scenario;
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE],
        outside[BRV_NUMBER_SIZE], hash[BRV_HASH_SIZE];
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *request->title ? request->title : "(no title)",
            brv_hash_scenario(hash, ask));
    fprintf(
        to, "ASKED    %.4g nm, %s %s pulse, %s %s spot, %s (%s), %s outside, skin at %.1f C\n",
        1e9 * ask->beam.wavelength, brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
        ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian", brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
        ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat",
        brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), brv_number_unit(energy, ask->beam.energy, BRV_ENERGY),
        outside_name(&ask->surface, outside), ask->surface.temperature - BRV_ZERO_C);
    row(to, "", "", "lesion", "neighbour");
}

/* "2.78 + 20.9" */
static void reflected_text(char out[BRV_NUMBER_SIZE], const struct brv_layered *light)
{
    char mirror[BRV_NUMBER_SIZE], diffuse[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.12s + %.12s", brv_number_short(mirror, 100.0 * light->reflected_specular),
             brv_number_short(diffuse, 100.0 * light->reflected_diffuse));
}

static void write_light(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_site *lesion = &result->site[BRV_LESION], *neighbour = &result->site[BRV_NEIGHBOUR];
    const size_t layer = lesion->tissue.grain.layer;
    const char *name = request->layer_name[layer];
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], what[BRV_NUMBER_SIZE];
    reflected_text(one, &lesion->light.layered);
    reflected_text(two, &neighbour->light.layered);
    row(to, "LIGHT", "comes back, mirror + diffuse, %", one, two);
    snprintf(what, sizeof what, "taken up by %.24s, %%", name);
    number_row(to, "", what, 100.0 * lesion->light.layered.absorbed[layer],
               100.0 * neighbour->light.layered.absorbed[layer]);
    snprintf(what, sizeof what, "fluence in %.16s over incident", name);
    number_row(to, "", what, lesion->light.mean_fluence[layer], neighbour->light.mean_fluence[layer]);
}

/* "49 ns (mean to 1/2, d2/39.9a) to 481 ns (diffusion length, d2/4a)": the ends of the table of definitions. */
static void write_formulas(FILE *to, double diameter)
{
    const struct brv_relaxation *slow = &brv_relaxations[0], *fast = &brv_relaxations[brv_n_relaxations - 1];
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    fprintf(to, "%-11sby formula %s (%s, d2/%.3ga) to %s (%s, d2/%.3ga), a %.2g mm2/s\n", "",
            brv_number_unit(one, brv_relaxation_time(fast->kappa, diameter, BRV_TRADE_DIFFUSIVITY), BRV_TIME),
            fast->name, fast->kappa,
            brv_number_unit(two, brv_relaxation_time(slow->kappa, diameter, BRV_TRADE_DIFFUSIVITY), BRV_TIME),
            slow->name, slow->kappa, 1e6 * BRV_TRADE_DIFFUSIVITY);
}

static void write_relaxation(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    unit_row(to, "", "relaxation: this grain's mean to 1/e", lesion->cooling.mean_efold, neighbour->cooling.mean_efold,
             BRV_TIME);
    write_formulas(to, lesion->diameter);
    number_row(to, "", "pulse / relaxation of this grain", lesion->pulse / lesion->cooling.mean_efold,
               neighbour->pulse / neighbour->cooling.mean_efold);
}

/* Two criteria on one line, values only: their spread is in proportion to the first. */
static void further_thresholds(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], a[BRV_NUMBER_SIZE], b[BRV_NUMBER_SIZE];
    snprintf(one, sizeof one, "%.12s, %.12s", brv_number_short(a, lesion->threshold[1].value * to_J_cm2),
             brv_number_short(b, lesion->threshold[2].value * to_J_cm2));
    snprintf(two, sizeof two, "%.12s, %.12s", brv_number_short(a, neighbour->threshold[1].value * to_J_cm2),
             brv_number_short(b, neighbour->threshold[2].value * to_J_cm2));
    row(to, "", "  the same at 136 C, at 150 C", one, two);
}

static void write_grain(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const bool above = lesion->above || neighbour->above;
    char what[BRV_NUMBER_SIZE];
    snprintf(what, sizeof what, "one pigment grain in %.20s, diameter",
             request->layer_name[result->site[BRV_LESION].tissue.grain.layer]);
    unit_row(to, "GRAIN", what, lesion->diameter, neighbour->diameter, BRV_LENGTH);
    write_relaxation(to, lesion, neighbour);
    number_row(to, "", "its heat that has not left it at pulse end, %", 100.0 * lesion->held, 100.0 * neighbour->held);
    spread_row(to, "", above ? "highest rise, mean, without vaporisation, K" : "highest rise, mean of its interior, K",
               &lesion->peak[BRV_PROBE_MEAN], &neighbour->peak[BRV_PROBE_MEAN], 1.0, 0.0);
    spread_row(to, "", "highest rise, its surface, K", &lesion->peak[BRV_PROBE_SURFACE],
               &neighbour->peak[BRV_PROBE_SURFACE], 1.0, 0.0);
    snprintf(what, sizeof what, "threshold of a grain, mean at %.0f C, J/cm2",
             brv_criteria[0].temperature - BRV_ZERO_C);
    spread_row(to, "", what, &lesion->threshold[0], &neighbour->threshold[0], to_J_cm2, 0.0);
    further_thresholds(to, lesion, neighbour);
}

static const char *depth_name(char out[BRV_NUMBER_SIZE], double depth)
{
    char text[BRV_NUMBER_SIZE];
    if (depth > 0.0)
        snprintf(out, BRV_NUMBER_SIZE, "  at %.20s", brv_number_unit(text, depth, BRV_LENGTH));
    else
        snprintf(out, BRV_NUMBER_SIZE, "  at the surface");
    return out;
}

static void write_layers(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_scenario *ask = &request->scenario;
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const double start = ask->surface.temperature - BRV_ZERO_C;
    char what[BRV_NUMBER_SIZE];
    const size_t layer = result->site[BRV_LESION].tissue.grain.layer;
    snprintf(what, sizeof what, "highest temperature, C, %s of %.14s",
             isinf(ask->skin[BRV_LESION].layer[layer].thickness) ? "top" : "mean", request->layer_name[layer]);
    spread_row(to, "LAYERS", what, &lesion->peak[BRV_PROBE_LAYER], &neighbour->peak[BRV_PROBE_LAYER], 1.0, start);
    for (size_t i = 0; i < ask->watch.n_depth && i < MOST_DEPTH_ROWS; i++)
        spread_row(to, "", depth_name(what, ask->watch.depth[i]), &lesion->peak[BRV_N_GRAIN_PROBE + i],
                   &neighbour->peak[BRV_N_GRAIN_PROBE + i], 1.0, start);
    if (ask->watch.n_depth > MOST_DEPTH_ROWS) row(to, "", "  further depths stand in summary.json", "", "");
}

void brv_summary_write(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    struct brv_notes notes;
    brv_notes_make(&notes, result);
    write_asked(to, request);
    write_light(to, request, result);
    write_grain(to, request, result);
    write_layers(to, request, result);
    for (size_t i = 0; i < notes.n; i++) wrapped(to, i ? "" : "NOTES", notes.text[i]);
    for (size_t i = 0; i < brv_n_cautions; i++) fprintf(to, "%-9s%s\n", i ? "" : "CAUTION", brv_cautions[i]);
}
