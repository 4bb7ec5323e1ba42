#include "report/colour.h"

#include "report/asked.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/digest.h"
#include "report/figure.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/note.h"
#include "report/number.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <math.h>
#include <string.h>

enum { N_SEEN_ROW = 4 };

static const char corners[] =
    "scattering 0.6-1 times, blood of the dermis 0.2-1 %, mirror left out or taken in; what is given is held";

static const struct brv_scenario *ask_of(const struct brv_colour_answer *answer)
{
    return &answer->request->scenario;
}

/* ---- CSV ---- */

void brv_reflectance_csv(FILE *to, const struct brv_colour_answer *answer)
{
    char text[3][BRV_NUMBER_SIZE];
    fputs("wavelength_m,neighbour,lesion\r\n", to);
    for (size_t i = 0; i < BRV_N_SPECTRUM; i++)
        fprintf(to, "%s,%s,%s\r\n", brv_number_exact(text[0], answer->wavelength[i]),
                brv_number_exact(text[1], answer->diffuse[BRV_NEIGHBOUR][i]),
                brv_number_exact(text[2], answer->diffuse[BRV_LESION][i]));
}

void brv_visibility_csv(FILE *to, const struct brv_colour_answer *answer)
{
    const struct brv_visibility *seen = &answer->seen;
    char text[BRV_NUMBER_SIZE];
    fputs("depth_m", to);
    for (size_t k = 0; k < BRV_N_SEEN; k++) fprintf(to, ",contrast_%.0fnm", 1e9 * brv_seen_wavelengths[k]);
    fputs(",change_L,change_a,change_b\r\n", to);
    for (size_t i = 0; i < seen->n; i++) {
        fputs(brv_number_exact(text, seen->depth[i]), to);
        for (size_t k = 0; k < BRV_N_SEEN; k++) fprintf(to, ",%s", brv_number_exact(text, seen->contrast[i][k]));
        fprintf(to, ",%s", brv_number_exact(text, seen->lightness[i]));
        fprintf(to, ",%s", brv_number_exact(text, seen->red[i]));
        fprintf(to, ",%s\r\n", brv_number_exact(text, seen->yellow[i]));
    }
}

/* ---- notes ---- */

/* What was given for the scenario's own wavelength is held at all others, and then says little about colour. */
static void note_held(struct brv_notes *notes, const struct brv_request *request)
{
    static const char *const key[] = {"absorption", "scattering", "reduced_scattering"};
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_skin *skin = &request->scenario.skin[site];
        for (size_t i = 0; i < skin->n_layer; i++)
            for (size_t k = 0; k < sizeof key / sizeof *key; k++) {
                if (!brv_key_given(&skin->layer[i], BRV_SCOPE_LAYER, key[k])) continue;
                brv_notes_add(notes,
                              "%s of %s was given for one wavelength and is held at all: this colour says little.",
                              key[k], request->layer_name[i]);
                return;
            }
        if (brv_key_given(&skin->grain, BRV_SCOPE_GRAIN, "absorption")) {
            brv_notes_add(
                notes,
                "the absorption of a grain was given for one wavelength and is held at all: this colour says little.");
            return;
        }
    }
}

static void note_bounds(struct brv_notes *notes, const struct brv_colour_answer *answer)
{
    const char *skin = answer->own_layers ? "this skin" : "a ready skin with these grains";
    const double darkest = answer->bounds.darkest.ita, clear = answer->bounds.clear.ita;
    if (isnan(clear))
        brv_notes_add(notes, "%s has no ITA even without pigment: its b* is not above 0.", skin);
    else if (isnan(darkest))
        brv_notes_add(
            notes,
            "%s can have ITA up to %.0f, brackets aside, and none at 60 %% melanosomes, where b* is not above "
            "0; people with more are not in it.",
            skin, clear);
    else
        brv_notes_add(notes, "%s can have ITA from %.0f to %.0f, brackets aside; people with more are not in it.", skin,
                      fmin(darkest, clear), fmax(darkest, clear));
}

static void notes_make(struct brv_notes *notes, const struct brv_colour_answer *answer)
{
    notes->n = 0;
    brv_notes_add(notes, "low and high: %s.", corners);
    note_held(notes, answer->request);
    brv_notes_add(
        notes,
        "ITA and skin type by questionnaire correlate poorly (published abstract): use the measured colour, not the "
        "type; no setting follows from a class.");
    note_bounds(notes, answer);
    brv_notes_add(notes,
                  "as a meter with a wide opening reads it; a small one loses light at its rim and reads darker.");
    if (!answer->seen.possible)
        brv_notes_add(
            notes, "pigment in the dermis is left out: no dermis with a composition lies there, or there are too many "
                   "layers.");
}

/* ---- text ---- */

static void row(FILE *to, const char *label, const char *what, const char *lesion, const char *neighbour)
{
    fprintf(to, "%-9s%-39s%-31s %s\n", label, what, lesion, neighbour);
}

static const char *range_text(char out[BRV_NUMBER_SIZE], double value, double low, double high)
{
    if (isnan(value))
        snprintf(out, BRV_NUMBER_SIZE, "none");
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.1f (%.1f to %.1f)", value, low, high);
    return out;
}

enum { N_PART = 4 };
static const char *const part_name[N_PART] = {"L", "a", "b", "ITA"};

static double part_of(const struct brv_colour *colour, size_t part)
{
    const double all[N_PART] = {colour->lab.lightness, colour->lab.red, colour->lab.yellow, colour->ita};
    return all[part];
}

static const char *class_name(const struct brv_colour_range *colour)
{
    const size_t which = brv_ita_class_of(colour->value.ita);
    return which < BRV_N_ITA_CLASS ? brv_ita_classes[which].name : "none: b* is not above 0";
}

/* "light to tanned" over the range of the angle */
static const char *class_text(char out[BRV_NUMBER_SIZE], const struct brv_colour_range *colour)
{
    const size_t darkest = brv_ita_class_of(colour->low.ita), lightest = brv_ita_class_of(colour->high.ita);
    if (darkest == lightest || darkest == BRV_N_ITA_CLASS)
        snprintf(out, BRV_NUMBER_SIZE, "%s", class_name(colour));
    else
        snprintf(out, BRV_NUMBER_SIZE, "%s (%s to %s)", class_name(colour), brv_ita_classes[darkest].name,
                 brv_ita_classes[lightest].name);
    return out;
}

static const char *reflected_text(char out[BRV_NUMBER_SIZE], const struct brv_colour_answer *answer, size_t site)
{
    static const size_t at[] = {10, 30, 50, 80}; /* 450, 550, 650, 800 nm */
    size_t n = 0;
    for (size_t k = 0; k < sizeof at / sizeof *at; k++)
        n += (size_t)snprintf(out + n, BRV_NUMBER_SIZE - n, "%s%.1f", k ? ", " : "",
                              100.0 * answer->diffuse[site][at[k]]);
    return out;
}

static void write_colours(FILE *to, const struct brv_colour_answer *answer)
{
    static const char *const what[N_PART] = {"L*, light", "a*, red over green", "b*, yellow over blue",
                                             "ITA = arctan((L* - 50)/b*), degrees"};
    char text[BRV_N_SITE][BRV_NUMBER_SIZE];
    row(to, "", "", "lesion", "neighbour");
    for (size_t k = 0; k < N_PART; k++) {
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_colour_range *colour = &answer->colour[site];
            range_text(text[site], part_of(&colour->value, k), part_of(&colour->low, k), part_of(&colour->high, k));
        }
        row(to, k ? "" : "COLOUR", what[k], text[BRV_LESION], text[BRV_NEIGHBOUR]);
    }
    row(to, "", "class by ITA", class_text(text[0], &answer->colour[BRV_LESION]),
        class_text(text[1], &answer->colour[BRV_NEIGHBOUR]));
    row(to, "", "back at 450, 550, 650, 800 nm, %", reflected_text(text[0], answer, BRV_LESION),
        reflected_text(text[1], answer, BRV_NEIGHBOUR));
}

static const char *limits_text(char out[BRV_NUMBER_SIZE], size_t class)
{
    if (class == 0)
        snprintf(out, BRV_NUMBER_SIZE, "above %.0f", brv_ita_classes[0].above);
    else if (class + 1 == BRV_N_ITA_CLASS)
        snprintf(out, BRV_NUMBER_SIZE, "up to %.0f", brv_ita_classes[class - 1].above);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.0f to %.0f", brv_ita_classes[class].above, brv_ita_classes[class - 1].above);
    return out;
}

/* Over the class and the corners together. */
static struct brv_spread class_spread(const struct brv_colour_answer *answer, size_t class)
{
    const struct brv_colour_pigment *within = &answer->within[class];
    struct brv_spread spread = {within->possible ? within->value : (double)NAN, 0.0, 0.6};
    if (class > 0) spread.low = answer->limit[class - 1].possible ? answer->limit[class - 1].low : (double)NAN;
    if (class + 1 < BRV_N_ITA_CLASS)
        spread.high = answer->limit[class].possible ? answer->limit[class].high : (double)NAN;
    return spread;
}

static void write_classes(FILE *to, const struct brv_colour_answer *answer)
{
    fprintf(to, "%-9s%-14s%-12s%-18s%s\n", "CLASSES", "by ITA", "degrees", "melanosomes, %", "lowest to highest, %");
    for (size_t i = 0; i < BRV_N_ITA_CLASS; i++) {
        char limits[BRV_NUMBER_SIZE], value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
        const struct brv_spread spread = class_spread(answer, i);
        fprintf(to, "%-9s%-14s%-12s%-18s%s to %s\n", "", brv_ita_classes[i].name, limits_text(limits, i),
                isnan(spread.value) ? "open class" : brv_number_short(value, 100.0 * spread.value),
                brv_number_short(low, 100.0 * spread.low), brv_number_short(high, 100.0 * spread.high));
    }
}

static void write_pigment(FILE *to, const struct brv_colour_answer *answer)
{
    char share[BRV_ASKED_SIZE], line[2 * BRV_ASKED_SIZE];
    if (*brv_asked_colour(share, ask_of(answer)))
        snprintf(line, sizeof line, "%s", share);
    else if (answer->pigment.possible)
        snprintf(line, sizeof line,
                 "the neighbour's ITA stands for %s melanosomes in the epidermis of %s, by this model, not measured.",
                 brv_asked_share(share, answer->pigment.value, answer->pigment.low, answer->pigment.high),
                 answer->own_layers ? "its layers" : "a ready skin");
    else
        snprintf(line, sizeof line, "no share of melanosomes in the epidermis of %s has the neighbour's ITA here.",
                 answer->own_layers ? "its layers" : "a ready skin");
    brv_words_wrap(to, "PIGMENT", line);
    if (*brv_asked_made_colour(share, ask_of(answer))) brv_words_wrap(to, "", share);
}

static void write_seen(FILE *to, const struct brv_colour_answer *answer)
{
    const struct brv_visibility *seen = &answer->seen;
    char thickness[BRV_NUMBER_SIZE], share[BRV_NUMBER_SIZE], line[BRV_COLOUR_TEXT], depth[BRV_NUMBER_SIZE];
    if (!seen->possible) return;
    snprintf(
        line, sizeof line,
        "%s with %s %% melanosomes more (%s) in the neighbour's dermis: light missing, in %%, and change of colour",
        brv_number_unit(thickness, seen->layer.thickness, BRV_LENGTH),
        brv_number_short(share, 100.0 * seen->layer.melanosomes),
        seen->layer.own ? "the scenario's lesion" : "choices");
    brv_words_wrap(to, "DEEPER", line);
    fprintf(to, "%-9s%-12s%-9s%-9s%-9s%-11s%-9s%-9s%s\n", "", "depth", "400 nm", "450 nm", "550 nm", "650 nm", "L*",
            "a*", "b* (below 0: bluer)");
    for (size_t k = 0; k < N_SEEN_ROW; k++) {
        const size_t i = k * (seen->n - 1) / (N_SEEN_ROW - 1);
        fprintf(to, "%-9s%-12s", "", brv_number_unit(depth, seen->depth[i], BRV_LENGTH));
        for (size_t j = 0; j < BRV_N_SEEN; j++)
            fprintf(to, j + 1 < BRV_N_SEEN ? "%-9.1f" : "%-11.1f", 100.0 * seen->contrast[i][j]);
        fprintf(to, "%-+9.1f%-+9.1f%+.1f\n", seen->lightness[i], seen->red[i], seen->yellow[i]);
    }
}

void brv_colour_summary(FILE *to, const struct brv_colour_answer *answer)
{
    char hash[BRV_HASH_SIZE], cautions[BRV_CAUTION_SIZE];
    const char *title = answer->request->title;
    struct brv_notes notes;
    notes_make(&notes, answer);
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION, *title ? title : "(no title)",
            brv_hash_scenario(hash, ask_of(answer)));
    fputs("ASKED    L*a*b* under D65, 2 degree observer, 400 to 700 nm, bare skin in air, wide light, without the "
          "mirror\n",
          to);
    write_colours(to, answer);
    write_pigment(to, answer);
    write_classes(to, answer);
    write_seen(to, answer);
    for (size_t i = 0; i < notes.n; i++) brv_words_wrap(to, i ? "" : "NOTES", notes.text[i]);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}

/* ---- JSON ---- */

static void digest_colours(struct brv_json *json, const struct brv_colour_answer *answer)
{
    static const char *const unit[N_PART] = {"1", "1", "1", "degree"};
    brv_json_open(json, "colour", '{');
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_colour_range *colour = &answer->colour[site];
        brv_json_open(json, brv_site_name[site], '{');
        for (size_t k = 0; k < N_PART; k++) {
            const struct brv_spread spread = {part_of(&colour->value, k), part_of(&colour->low, k),
                                              part_of(&colour->high, k)};
            brv_json_spread(json, part_name[k], &spread, 1.0, 0.0, unit[k], corners);
        }
        brv_json_text(json, "class", class_name(colour));
        brv_json_number(json, "mirror_of_surface", answer->mirror[site], "1");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

static void digest_pigment(struct brv_json *json, const struct brv_colour_answer *answer)
{
    const struct brv_spread own = {answer->pigment.value, answer->pigment.low, answer->pigment.high};
    brv_json_open(json, "pigment", '{');
    brv_json_text(json, "of",
                  answer->own_layers ? "the neighbour's layers" : "a ready skin with the neighbour's grains");
    if (answer->pigment.possible)
        brv_json_spread(json, "melanosomes_of_epidermis", &own, 1.0, 0.0, "1", BRV_COLOUR_SOURCE);
    brv_json_open(json, "classes", '[');
    for (size_t i = 0; i < BRV_N_ITA_CLASS; i++) {
        const struct brv_spread spread = class_spread(answer, i);
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "class", brv_ita_classes[i].name);
        brv_json_sourced(json, "ITA_above", brv_ita_classes[i].above, "degree", "chardon-1991", "second-hand");
        brv_json_spread(json, "melanosomes_of_epidermis", &spread, 1.0, 0.0, "1",
                        "middle of the class; low and high over the class and over what is uncertain");
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
    brv_json_close(json, '}');
}

static void digest_seen(struct brv_json *json, const struct brv_visibility *seen)
{
    if (!seen->possible) return;
    brv_json_open(json, "visibility", '{');
    brv_json_text(json, "layer", seen->layer.own ? "the scenario's lesion" : "a choice of this project");
    brv_json_number(json, "thickness", seen->layer.thickness, "m");
    brv_json_number(json, "melanosomes", seen->layer.melanosomes, "1");
    brv_json_text(json, "rows", "all depths stand in visibility.csv");
    brv_json_close(json, '}');
}

void brv_colour_digest(FILE *to, const struct brv_colour_answer *answer)
{
    struct brv_json json = {.to = to};
    struct brv_notes notes;
    notes_make(&notes, answer);
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    brv_json_open(&json, "asked", '{');
    brv_json_text(&json, "light", "D65, 2 degree observer, 400 to 700 nm every 10 nm; bare skin in air, wide beam");
    brv_digest_colour(&json, ask_of(answer));
    brv_json_close(&json, '}');
    digest_colours(&json, answer);
    digest_pigment(&json, answer);
    digest_seen(&json, &answer->seen);
    brv_json_open(&json, "notes", '[');
    for (size_t i = 0; i < notes.n; i++) brv_json_text(&json, NULL, notes.text[i]);
    brv_json_close(&json, ']');
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}

/* ---- figures ---- */

size_t brv_colour_figures(struct brv_figure figure[2], struct brv_colour_words *words,
                          const struct brv_colour_answer *answer)
{
    const struct brv_seen_layer *layer = &answer->seen.layer;
    const struct brv_colour *lesion = &answer->colour[BRV_LESION].value,
                            *neighbour = &answer->colour[BRV_NEIGHBOUR].value;
    char thickness[BRV_NUMBER_SIZE], share[BRV_NUMBER_SIZE];
    const char *title = answer->request->title;
    snprintf(words->marks, sizeof words->marks, "'L* %.1f  a* %.1f  b* %.1f' 'L* %.1f  a* %.1f  b* %.1f'",
             lesion->lab.lightness, lesion->lab.red, lesion->lab.yellow, neighbour->lab.lightness, neighbour->lab.red,
             neighbour->lab.yellow);
    snprintf(words->asked, sizeof words->asked,
             "diffuse reflectance of bare skin in air, wide beam, without the mirror of the surface; L*a*b* under D65");
    snprintf(words->layer, sizeof words->layer,
             "a layer of %s µm with %s %% melanosomes more in the neighbour's dermis (%s)",
             brv_number_short(thickness, 1e6 * layer->thickness), brv_number_short(share, 100.0 * layer->melanosomes),
             layer->own ? "the scenario's lesion" : "both numbers are choices");
    brv_figure_corner(words->corner, ask_of(answer));
    if (!*title) title = "Colour of skin";
    figure[0] = (struct brv_figure){"reflectance", {words->marks, title, words->asked, words->corner, NULL}};
    figure[1] = (struct brv_figure){"visibility", {"", title, words->layer, words->corner, NULL}};
    return answer->seen.possible ? 2 : 1;
}
