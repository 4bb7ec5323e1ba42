/* The two sheets of a lesson: what is asked, with room to write, and the worked answer. Both are made once and shown twice, as
 * text and to print. Figures belong to one of them: a figure that tells the answer is no part of the question.      */
#ifndef BRV_CLI_LESSON_PAGE_H
#define BRV_CLI_LESSON_PAGE_H

#include "report/figure.h"
#include "report/sheet.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { BRV_PAGE_FIGURES = 3, BRV_PAGE_EXTRA = 1600 };

/* To which sheet a figure belongs. */
enum brv_page_side { BRV_WITH_QUESTION, BRV_WITH_ANSWER };

/* One figure: plots/NAME.gp draws NAME.csv. Its words are HEADING (the lesson's question), ASKED, CORNER and, where the
 * script wants more, EXTRA.                                                                                        */
struct brv_page_figure {
    const char *name;
    enum brv_page_side side;
    const char *caption; /* below it on the sheet; a literal */
    char asked[BRV_FIGURE_TEXT];
    char extra[BRV_PAGE_EXTRA]; /* "": the script wants no more */
    char *csv;                  /* [size] owned: what stands in the CSV */
    size_t size;
};

struct brv_page {
    struct brv_sheet question; /* lines beyond those that every lesson has, such as numbers that are given */
    struct brv_sheet answer;
    size_t n_figure;
    struct brv_page_figure figure[BRV_PAGE_FIGURES];
    bool full; /* a figure found no room or no memory */
};

/* The plain first sentence of the answer, and a step of it; made as by printf. */
#define brv_page_answer(page, ...) brv_sheet_add(&(page)->answer, "ANSWER", __VA_ARGS__)
#define brv_page_step(page, ...)   brv_sheet_add(&(page)->answer, brv_page_number(page), __VA_ARGS__)

/* "1", "2", ...: the label of the next step. */
const char *brv_page_number(const struct brv_page *page);

/* One figure more. Returns it with `to` open for its CSV, to be closed by brv_page_drawn; NULL when there is no room or no
 * memory, which page->full then says.                                                                              */
struct brv_page_figure *brv_page_draw(struct brv_page *page, const char *name, enum brv_page_side side,
                                      const char *caption, FILE **to);
void brv_page_drawn(struct brv_page *page, FILE *to);

void brv_page_free(struct brv_page *page);

#endif
