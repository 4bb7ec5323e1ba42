/* The two sheets of a lesson: what is asked, with room to write, and the worked answer. Both are made once and shown
 * twice, as text and to print. Figures belong to one of them: one that tells the answer is no part of the question. */
#ifndef BRV_CLI_LESSON_EXERCISE_H
#define BRV_CLI_LESSON_EXERCISE_H

#include "report/figure.h"
#include "report/sheet.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { BRV_EXERCISE_FIGURES = 3, BRV_EXERCISE_EXTRA = 1600 };

/* To which sheet a figure belongs. */
enum brv_exercise_side { BRV_WITH_QUESTION, BRV_WITH_ANSWER };

/* One figure: plots/NAME.gp draws NAME.csv. Its words are HEADING (the lesson's question), ASKED, CORNER and, where the
 * script wants more, EXTRA.                                                                                        */
struct brv_exercise_figure {
    const char *name;
    enum brv_exercise_side side;
    const char *caption; /* below it on the sheet; a literal */
    char asked[BRV_FIGURE_TEXT];
    char extra[BRV_EXERCISE_EXTRA]; /* "": the script wants no more */
    char *csv;                      /* [size] owned: what stands in the CSV */
    size_t size;
};

struct brv_exercise {
    struct brv_sheet question; /* lines beyond those that every lesson has, such as numbers that are given */
    struct brv_sheet answer;
    size_t n_figure;
    struct brv_exercise_figure figure[BRV_EXERCISE_FIGURES];
    bool full; /* a figure found no room or no memory */
};

/* The plain first sentence of the answer, and a step of it; made as by printf. */
#define brv_exercise_answer(exercise, ...) brv_sheet_add(&(exercise)->answer, "ANSWER", __VA_ARGS__)
#define brv_exercise_step(exercise, ...)   brv_sheet_add(&(exercise)->answer, brv_exercise_number(exercise), __VA_ARGS__)

/* "1", "2", ...: the label of the next step. */
const char *brv_exercise_number(const struct brv_exercise *exercise);

/* One figure more. Returns it with `to` open for its CSV, to be closed by brv_exercise_drawn; NULL when there is no room
 * or no memory, which exercise->full then says.                                                                     */
struct brv_exercise_figure *brv_exercise_draw(struct brv_exercise *exercise, const char *name,
                                              enum brv_exercise_side side, const char *caption, FILE **to);
void brv_exercise_drawn(struct brv_exercise *exercise, FILE *to);

void brv_exercise_free(struct brv_exercise *exercise);

#endif
