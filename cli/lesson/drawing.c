#include "lesson/drawing.h"

#include "report/number.h"
#include "report/term.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define APART 0.055 /* names beside curves, of the height of the panel [1] */

/* ---- how long the axes are ---- */

struct range {
    double from, to;
};

static void widen(struct range *range, double value, bool log)
{
    if (!isfinite(value) || (log && !(value > 0.0))) return;
    range->from = fmin(range->from, value);
    range->to = fmax(range->to, value);
}

/* The next number above, or with `up` false below, that is `step` times a power of ten. */
static double round_number(double value, bool up, size_t n, const double step[])
{
    const double decade = pow(10.0, floor(log10(value)));
    double below = decade;
    for (size_t i = 0; i < n; i++) {
        if (up && step[i] * decade >= value * (1.0 - 1e-9)) return step[i] * decade;
        if (!up && step[i] * decade <= value * (1.0 + 1e-9)) below = step[i] * decade;
    }
    return up ? 10.0 * decade : below;
}

/* Wide enough to tell nothing closely: the blank figure has the same axes. */
static struct range range_of(const struct brv_drawing_axis *axis, struct range seen)
{
    static const double coarse[] = {1.0, 2.0, 5.0}, fine[] = {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0};
    const double from = seen.from * axis->scale, to = seen.to * axis->scale;
    if (axis->from < axis->to) return (struct range){axis->from, axis->to};
    if (!(from <= to)) return (struct range){axis->log ? 0.1 : 0.0, 1.0};
    if (axis->log)
        return (struct range){round_number(from / 1.2, false, 3, coarse), round_number(1.2 * to, true, 3, coarse)};
    return (struct range){0.0, to > 0.0 ? round_number(1.05 * to, true, 9, fine) : 1.0};
}

static void see_all(struct range *x, struct range *y, const struct brv_drawing *drawing)
{
    *x = *y = (struct range){INFINITY, -INFINITY};
    for (size_t k = 0; k < drawing->n_curve; k++) {
        const struct brv_drawing_curve *curve = &drawing->curve[k];
        for (size_t i = 0; i < curve->n; i++) {
            widen(x, curve->x[i], drawing->x.log);
            widen(y, curve->y[i], drawing->y.log);
            if (curve->low) widen(y, curve->low[i], drawing->y.log);
            if (curve->high) widen(y, curve->high[i], drawing->y.log);
        }
    }
    *x = drawing->names ? (struct range){0.5, (double)drawing->n_name + 0.5} : range_of(&drawing->x, *x);
    *y = range_of(&drawing->y, *y);
}

/* ---- where the names stand ---- */

/* Height of a value in the panel, 0 to 1. */
static double height_of(const struct brv_drawing_axis *axis, struct range range, double value)
{
    const double shown = value * axis->scale;
    const double share = axis->log ? log(shown / range.from) / log(range.to / range.from)
                                   : (shown - range.from) / (range.to - range.from);
    return isnan(share) ? 0.0 : fmin(fmax(share, 0.02), 0.98);
}

/* Beside the last value of every curve, and apart from each other. */
static void place_names(double place[BRV_DRAWING_CURVES], const struct brv_drawing *drawing, struct range y)
{
    size_t order[BRV_DRAWING_CURVES];
    for (size_t k = 0; k < drawing->n_curve; k++) {
        const struct brv_drawing_curve *curve = &drawing->curve[k];
        double last = NAN;
        for (size_t i = 0; i < curve->n; i++)
            if (isfinite(curve->y[i])) last = curve->y[i];
        place[k] = height_of(&drawing->y, y, last);
        size_t at = k;
        for (; at > 0 && place[order[at - 1]] > place[k]; at--) order[at] = order[at - 1];
        order[at] = k;
    }
    for (size_t i = 1; i < drawing->n_curve; i++) place[order[i]] = fmax(place[order[i]], place[order[i - 1]] + APART);
    const double over = drawing->n_curve ? place[order[drawing->n_curve - 1]] - 1.0 : 0.0;
    for (size_t i = 0; i < drawing->n_curve && over > 0.0; i++) place[i] -= over;
}

/* ---- the words of the script ---- */

/* One more word in single quotes; a quote inside would end it. */
static void add_word(char out[BRV_EXERCISE_EXTRA], const char *format, ...) __attribute__((format(printf, 2, 3)));
static void add_word(char out[BRV_EXERCISE_EXTRA], const char *format, ...)
{
    char word[BRV_FIGURE_TEXT];
    va_list list;
    va_start(list, format);
    vsnprintf(word, sizeof word, format, list);
    va_end(list);
    for (char *c = word; *c; c++)
        if (*c == '\'') *c = ' ';
    const size_t used = strlen(out);
    snprintf(out + used, BRV_EXERCISE_EXTRA - used, "%s'%s'", used ? " " : "", word);
}

static void add_axis(char out[BRV_EXERCISE_EXTRA], const struct brv_drawing_axis *axis, struct range range)
{
    add_word(out, "%s", axis->column);
    add_word(out, "%s", axis->label);
    add_word(out, "%.9e", axis->scale);
    add_word(out, "%d", axis->log ? 1 : 0);
    add_word(out, "%d", axis->seconds ? 1 : 0);
    add_word(out, "%.9e", range.from);
    add_word(out, "%.9e", range.to);
}

static void say_words(char out[BRV_EXERCISE_EXTRA], const struct brv_drawing *drawing, struct range x, struct range y)
{
    double place[BRV_DRAWING_CURVES];
    place_names(place, drawing, y);
    *out = '\0';
    add_axis(out, &drawing->x, x);
    add_axis(out, &drawing->y, y);
    add_word(out, "%.9e", drawing->mark * drawing->x.scale);
    add_word(out, "%s", drawing->mark > 0.0 ? drawing->mark_name : "-");
    add_word(out, "%zu", drawing->n_curve);
    for (size_t k = 0; k < BRV_DRAWING_CURVES; k++) {
        const bool there = k < drawing->n_curve;
        add_word(out, "%s", there ? drawing->curve[k].name : "-");
        add_word(out, "%.4f", there ? place[k] : 0.0);
        add_word(out, "%d", there && drawing->curve[k].points);
    }
    add_word(out, "%zu", drawing->names ? drawing->n_name : 0);
    for (size_t i = 0; drawing->names && i < drawing->n_name; i++) add_word(out, "%s", drawing->names[i]);
}

/* ---- the CSV ---- */

static void write_head(FILE *to, const struct brv_drawing *drawing)
{
    const char *y = drawing->y.column;
    fprintf(to, "curve,%s,%s,%s_low,%s_high\r\n", drawing->x.column, y, y, y);
}

static void write_row(FILE *to, const struct brv_drawing_curve *curve, size_t k, size_t i, bool log)
{
    char x[BRV_NUMBER_SIZE], y[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    if (!isfinite(curve->y[i]) || (log && !(curve->x[i] > 0.0))) return;
    fprintf(to, "%zu,%s,%s,%s,%s\r\n", k + 1, brv_number_exact(x, curve->x[i]), brv_number_exact(y, curve->y[i]),
            brv_number_exact(low, curve->low ? curve->low[i] : (double)NAN),
            brv_number_exact(high, curve->high ? curve->high[i] : (double)NAN));
}

static void write_curves(FILE *to, const struct brv_drawing *drawing)
{
    write_head(to, drawing);
    for (size_t k = 0; k < drawing->n_curve; k++)
        for (size_t i = 0; i < drawing->curve[k].n; i++) write_row(to, &drawing->curve[k], k, i, drawing->x.log);
}

/* ---- both figures ---- */

static void add_figure(struct brv_exercise *exercise, const struct brv_drawing *drawing, enum brv_exercise_side side,
                       const char *caption)
{
    FILE *to;
    struct range x, y;
    const bool blank = side == BRV_WITH_QUESTION;
    struct brv_exercise_figure *figure =
        brv_exercise_draw(exercise, blank ? "lesson_guess" : "lesson_answer", side, caption, &to);
    if (!figure) return;
    see_all(&x, &y, drawing);
    snprintf(figure->asked, sizeof figure->asked, "first choice: %s", drawing->asked);
    say_words(figure->extra, drawing, x, y);
    if (blank)
        write_head(to, drawing);
    else
        write_curves(to, drawing);
    brv_exercise_drawn(exercise, to);
}

void brv_drawing_add(struct brv_exercise *exercise, const struct brv_drawing *drawing)
{
    add_figure(exercise, drawing, BRV_WITH_QUESTION, "Draw what you expect; the axes are those of the answer.");
    add_figure(exercise, drawing, BRV_WITH_ANSWER, drawing->caption);
}

void brv_drawing_choices(struct brv_exercise *exercise, const struct brv_compared *compared, enum brv_headline which,
                         bool log, const char *caption)
{
    static const char *const site_name[BRV_N_SITE] = {"lesion", "neighbour"};
    static const double aside[BRV_N_SITE] = {-0.1, 0.1}; /* of a choice's place, so that bars do not cover each other */
    double x[BRV_N_SITE][BRV_MOST_CHOICES], value[3][BRV_N_SITE][BRV_MOST_CHOICES];
    const char *names[BRV_MOST_CHOICES];
    char label[BRV_TERM_SIZE], asked[BRV_ASKED_SIZE];
    const struct brv_comparison *comparison = compared->comparison;
    struct brv_drawing drawing = {.x = {"choice", "", 1.0, false, false, 0.0, 0.0},
                                  .y = {brv_terms[which].column, brv_term_label(label, which), brv_terms[which].scale,
                                        log, false, 0.0, which == BRV_HEADLINE_SHARE ? 105.0 : 0.0},
                                  .names = names,
                                  .n_name = comparison->n,
                                  .asked = brv_compared_asked(asked, compared),
                                  .caption = caption,
                                  .n_curve = brv_terms[which].shared ? 1 : BRV_N_SITE};
    for (size_t i = 0; i < comparison->n; i++) {
        names[i] = compared->choices->choice[i].name;
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_spread *spread = &comparison->headline[i].at[site][which];
            x[site][i] = (double)(i + 1) + (brv_terms[which].shared ? 0.0 : aside[site]);
            value[0][site][i] = spread->value;
            value[1][site][i] = spread->low;
            value[2][site][i] = spread->high;
        }
    }
    for (size_t site = 0; site < drawing.n_curve; site++)
        drawing.curve[site] = (struct brv_drawing_curve){brv_terms[which].shared ? "" : site_name[site],
                                                         comparison->n,
                                                         x[site],
                                                         value[0][site],
                                                         value[1][site],
                                                         value[2][site],
                                                         true};
    brv_drawing_add(exercise, &drawing);
}
