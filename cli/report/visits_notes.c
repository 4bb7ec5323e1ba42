#include "report/visits_notes.h"

#include "report/published.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

#define COOLED    0.1  /* share of its heat that a grain still holds at the end of a pulse that outlasts its cooling */
#define MORE      1e-6 /* shares that differ by less are one [1] */
#define PAPERS_AT 1064e-9 /* wavelength of all papers on repeated visits [m] */
#define SHADE     5e-9    /* and how far from it is not another one [m] */

enum { TEXT_SIZE = 900 };

/* ---- notes ---- */

/* The number of the first visit that disrupts more of the neighbour's grains; 0: none does. */
static size_t first_beside(const struct brv_visits *visits)
{
    for (size_t k = 0; k < visits->n; k++) {
        const struct brv_visit_site *site = visits->visit[k].site;
        if (site[BRV_NEIGHBOUR].share.value > site[BRV_LESION].share.value + MORE) return k + 1;
    }
    return 0;
}

static void note_neighbour(struct brv_notes *notes, const struct brv_visits *visits)
{
    const struct brv_visit_site *last = visits->visit[visits->n - 1].site;
    const size_t first = first_beside(visits);
    char share[64] = "", left[64] = "";
    if (first) snprintf(share, sizeof share, "of its grains at visit %zu", first);
    if (last[BRV_NEIGHBOUR].after.value < last[BRV_LESION].after.value - MORE)
        snprintf(left, sizeof left, "%sof its pigment after visit %zu", *share ? "; " : "", visits->n);
    if (!*share && !*left) return;
    brv_notes_add(notes, "the NEIGHBOUR loses the larger share: %s%s.", share, left);
    notes->n_grave = notes->n;
}

void brv_visits_notes_make(struct brv_notes *notes, const struct brv_visits *visits)
{
    const struct brv_site *lesion = &visits->result.site[BRV_LESION];
    notes->n = notes->n_grave = 0;
    note_neighbour(notes, visits);
    if (lesion->audit.held < COOLED)
        brv_notes_add(notes, "the pulse outlasts the cooling of a grain: whole layers warm, their grains go or stay "
                             "together, and what is left may swing from visit to visit. That is the model's doing.");
    if (!(lesion->effect.crowd.column > 0.0))
        brv_notes_add(notes, "the layers hold no pigment: shares are of single grains alone in the layer named, and "
                             "none of them shades anything.");
}

/* Notes on harm of the run that the visits begin with, but for what explains a figure that is not shown here. */
static bool is_told(const char *note)
{
    return strncmp(note, "log10 Omega", strlen("log10 Omega")) != 0;
}

int brv_visits_notes_text(FILE *to, const struct brv_notes *own, const struct brv_notes *run)
{
    int lines = 0;
    for (size_t i = 0; i < own->n_grave; i++) lines += brv_words_wrap(to, lines ? "" : "NOTES", own->text[i]);
    for (size_t i = 0; i < run->n_grave; i++)
        if (is_told(run->text[i])) lines += brv_words_wrap(to, lines ? "" : "NOTES", run->text[i]);
    for (size_t i = own->n_grave; i < own->n; i++) lines += brv_words_wrap(to, lines ? "" : "NOTES", own->text[i]);
    return lines;
}

/* ---- papers ---- */

/* Is it the first row of this paper? What was done to its people is said there. */
static bool is_first_of_source(size_t row)
{
    for (size_t i = 0; i < row; i++)
        if (brv_complications[i].repeated && !strcmp(brv_complications[i].source, brv_complications[row].source))
            return false;
    return true;
}

/* All rows of the kind that row `i` begins, in one entry; returns the row behind them. */
static size_t write_kind(char out[TEXT_SIZE], size_t i)
{
    const char *kind = brv_complications[i].event;
    size_t used = (size_t)snprintf(out, TEXT_SIZE, "%s:", kind);
    for (bool more = false; i < brv_n_complications && used < TEXT_SIZE; i++, more = true) {
        const struct brv_complication *row = &brv_complications[i];
        if (!row->repeated || strcmp(row->event, kind)) break;
        const bool first = is_first_of_source(i);
        used += (size_t)snprintf(out + used, TEXT_SIZE - used, "%s %s%s%s%s (%s)", more ? ";" : "", row->rate,
                                 row->chosen ? ", reported for it" : "", first ? ", " : "", first ? row->under : "",
                                 row->source);
    }
    return i;
}

/* Where all are from: before the first entry when it is elsewhere, after the last one when it is the same. */
static const char elsewhere[] = "of 1064 nm, not of your wavelength (ns, by their abstracts). Of ";
static const char ours[] = ". All at 1064 nm, ns, by their abstracts.";

static size_t next_repeated(size_t i)
{
    while (i < brv_n_complications && !brv_complications[i].repeated) i++;
    return i;
}

int brv_visits_papers(FILE *to, double wavelength)
{
    const bool same = fabs(wavelength - PAPERS_AT) <= SHADE;
    char kind[TEXT_SIZE], text[TEXT_SIZE + sizeof elsewhere + sizeof ours];
    int lines = 0;
    for (size_t i = next_repeated(0); i < brv_n_complications;) {
        i = next_repeated(write_kind(kind, i));
        const bool last = i == brv_n_complications;
        snprintf(text, sizeof text, "%s%s%s", same || lines ? "" : elsewhere, kind, same && last ? ours : "");
        lines += brv_words_wrap(to, lines ? "" : "PAPERS", text);
    }
    return lines;
}
