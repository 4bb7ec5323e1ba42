/* A card's lines, written once and shown twice: as text for the terminal and as a page to print. */
#ifndef BRV_CLI_REPORT_SHEET_H
#define BRV_CLI_REPORT_SHEET_H

#include <stddef.h>
#include <stdio.h>

enum { BRV_SHEET_LINE_SIZE = 700, BRV_SHEET_LINES = 80 };

struct brv_sheet_line {
    const char *label; /* "" continues the line before it */
    char text[BRV_SHEET_LINE_SIZE];
};

struct brv_sheet {
    size_t n;
    struct brv_sheet_line line[BRV_SHEET_LINES];
};

/* One line more; the text is made as by printf. */
void brv_sheet_add(struct brv_sheet *sheet, const char *label, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* All lines, broken between words. */
void brv_sheet_text(FILE *to, const struct brv_sheet *sheet);

/* The same as paragraphs; `style` goes into every <p>, as in " class=\"small\"". */
void brv_sheet_page(FILE *to, const struct brv_sheet *sheet, const char *style);

/* A title, cut with an ellipsis where a page would be nothing but title; the text beside the page has it whole. */
void brv_sheet_put_title(FILE *to, const char *title);

/* Text of a page inside an element; see brv_page_put. */
void brv_sheet_put_in(FILE *to, const char *element, const char *text);

#endif
