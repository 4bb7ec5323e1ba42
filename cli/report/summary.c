#include "report/summary.h"

#include "base/constants.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/note.h"
#include "report/number.h"

#include <math.h>
#include <string.h>

#define WIDTH 104 /* of wrapped notes */

static const double to_J_cm2 = 1e-4;

/* ---- lines ---- */

/* `LABEL   what   lesion   neighbour`, the two in columns. */
static void row(FILE *to, const char *label, const char *what, const char *lesion, const char *neighbour)
{
    fprintf(to, "%-9s%-43s%-24s%s\n", label, what, lesion, neighbour);
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

static void write_asked(FILE *to, const struct brv_request *request)
{
    const struct brv_scenario *ask = &request->scenario;
    char wave[BRV_NUMBER_SIZE], pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE],
        energy[BRV_NUMBER_SIZE], index[BRV_NUMBER_SIZE], hash[BRV_HASH_SIZE];
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *request->title ? request->title : "(no title)",
            brv_hash_scenario(hash, ask));
    fprintf(
        to, "ASKED    %s, %s %s pulse, %s %s spot, %s = %s, outside index %s, skin at %.1f C\n",
        brv_number_unit(wave, ask->beam.wavelength, BRV_LENGTH), brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
        ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian", brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
        ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian (1/e2)" : "flat",
        brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), brv_number_unit(energy, ask->beam.energy, BRV_ENERGY),
        brv_number_short(index, ask->surface.index), ask->surface.temperature - BRV_ZERO_C);
    row(to, "", "", "lesion", "neighbour");
}

/* "mirror 2.8 %, diffuse 9.3 %" */
static void reflected_text(char out[BRV_NUMBER_SIZE], const struct brv_layered *light)
{
    char mirror[BRV_NUMBER_SIZE], diffuse[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "%.12s + %.12s %%", brv_number_short(mirror, 100.0 * light->reflected_specular),
             brv_number_short(diffuse, 100.0 * light->reflected_diffuse));
}

static void write_light(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_site *lesion = &result->site[BRV_LESION], *neighbour = &result->site[BRV_NEIGHBOUR];
    const size_t layer = lesion->tissue.grain.layer;
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], what[BRV_NUMBER_SIZE];
    reflected_text(one, &lesion->light.layered);
    reflected_text(two, &neighbour->light.layered);
    row(to, "LIGHT", "comes back: mirror + diffuse", one, two);
    snprintf(what, sizeof what, "absorbed in %s, %% of the beam", request->layer_name[layer]);
    number_row(to, "", what, 100.0 * lesion->light.layered.absorbed[layer],
               100.0 * neighbour->light.layered.absorbed[layer]);
    snprintf(what, sizeof what, "light there, times the incident fluence");
    number_row(to, "", what, lesion->light.mean_fluence[layer], neighbour->light.mean_fluence[layer]);
}

static void write_relaxation(FILE *to, const struct brv_effect *lesion, const struct brv_effect *neighbour)
{
    char slow[BRV_NUMBER_SIZE], fast[BRV_NUMBER_SIZE];
    const double longest = brv_relaxation_time(4.0, lesion->diameter, BRV_TRADE_DIFFUSIVITY);
    const double shortest = brv_relaxation_time(39.4784, lesion->diameter, BRV_TRADE_DIFFUSIVITY);
    unit_row(to, "", "relaxation: this grain's mean to 1/e", lesion->cooling.mean_efold, neighbour->cooling.mean_efold,
             BRV_TIME);
    fprintf(to, "%-11sby formula %s (first mode, d2/39.5a) to %s (diffusion length, d2/4a), a = 1.3e-7 m2/s\n", "",
            brv_number_unit(fast, shortest, BRV_TIME), brv_number_unit(slow, longest, BRV_TIME));
    number_row(to, "", "pulse / relaxation of this grain", lesion->pulse / lesion->cooling.mean_efold,
               neighbour->pulse / neighbour->cooling.mean_efold);
}

static void write_grain(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    char one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE], what[BRV_NUMBER_SIZE];
    snprintf(one, sizeof one, "%.20s across", brv_number_unit(what, lesion->diameter, BRV_LENGTH));
    snprintf(two, sizeof two, "%.20s across", brv_number_unit(what, neighbour->diameter, BRV_LENGTH));
    snprintf(what, sizeof what, "one pigment grain in %s",
             request->layer_name[result->site[BRV_LESION].tissue.grain.layer]);
    row(to, "GRAIN", what, one, two);
    write_relaxation(to, lesion, neighbour);
    number_row(to, "", "its heat still in it at the pulse's end, %", 100.0 * lesion->held, 100.0 * neighbour->held);
    spread_row(to, "", "highest rise, mean of its interior, K", &lesion->peak[BRV_PROBE_MEAN],
               &neighbour->peak[BRV_PROBE_MEAN], 1.0, 0.0);
    spread_row(to, "", "highest rise, its surface, K", &lesion->peak[BRV_PROBE_SURFACE],
               &neighbour->peak[BRV_PROBE_SURFACE], 1.0, 0.0);
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        snprintf(what, sizeof what, "%s %.0f C mean, J/cm2", i ? "                     " : "threshold of a grain,",
                 brv_criteria[i].temperature - BRV_ZERO_C);
        spread_row(to, "", what, &lesion->threshold[i], &neighbour->threshold[i], to_J_cm2, 0.0);
    }
}

static void write_layers(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    const struct brv_scenario *ask = &request->scenario;
    const struct brv_effect *lesion = &result->site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &result->site[BRV_NEIGHBOUR].effect;
    const double start = ask->surface.temperature - BRV_ZERO_C;
    char what[BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE];
    snprintf(what, sizeof what, "highest temperature, C: mean of %s",
             request->layer_name[result->site[BRV_LESION].tissue.grain.layer]);
    spread_row(to, "LAYERS", what, &lesion->peak[BRV_PROBE_LAYER], &neighbour->peak[BRV_PROBE_LAYER], 1.0, start);
    for (size_t i = 0; i < ask->watch.n_depth && i < 5; i++) {
        snprintf(what, sizeof what, "                        at %.20s",
                 brv_number_unit(depth, ask->watch.depth[i], BRV_LENGTH));
        spread_row(to, "", what, &lesion->peak[BRV_N_GRAIN_PROBE + i], &neighbour->peak[BRV_N_GRAIN_PROBE + i], 1.0,
                   start);
    }
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
