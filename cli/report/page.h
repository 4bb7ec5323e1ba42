/* What the pages of this program share that are read in a browser and printed: head and style, text with its marks as
 * letters, figures inside the page, tables. One file, no network, no script: the style stands in the head, a figure is a
 * data URI (two of gnuplot's SVGs inside one page would share their ids, so each is an image of its own).
 * Text of users may hold anything: marks and quotes are escaped, what is no UTF-8 or no letter becomes U+FFFD, and
 * where it stands it says dir="auto". Tests: tests/unit/test_page.c, tests/cli/report.sh, tests/browser/report.sh.  */
#ifndef BRV_CLI_REPORT_PAGE_H
#define BRV_CLI_REPORT_PAGE_H

#include <stdbool.h>
#include <stdio.h>

/* In the head of every page, before anything that a user wrote: no script, no frame, no form, nothing from elsewhere, even
 * if text should ever come out of its place. Pictures are data, styles stand in the page.                             */
#define BRV_PAGE_POLICY                                                                                                \
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src "             \
    "'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"

/* From the doctype to the start of <main>, and its end. `title` is text. */
void brv_page_begin(FILE *to, const char *title);
void brv_page_end(FILE *to);

/* Text, fit for elements and for attributes in double quotes. */
void brv_page_put(FILE *to, const char *text);

/* The same of `size` bytes that need not end with a 0. */
void brv_page_put_bytes(FILE *to, const char *text, size_t size);

/* <element attributes>text</element> and a line end; `attributes` as written in a page, "" for none: the program's own. */
void brv_page_element(FILE *to, const char *element, const char *attributes, const char *text);

/* <p>, the text made as by printf and then escaped. */
void brv_page_say(FILE *to, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* <h2 id="id">heading</h2> */
void brv_page_section(FILE *to, const char *id, const char *heading);

/* A row of a list of names and what stands for them, between <dl> and </dl>. Nothing where `text` is "". */
void brv_page_entry(FILE *to, const char *name, const char *text);

/* "171 (81.8 to 255)" in a cell, the part in brackets on a line of its own; `attributes` as above. */
void brv_page_spread(FILE *to, const char *attributes, const char *text);

/* Has the figure `name` been drawn into `folder`? */
bool brv_page_has_figure(const char *folder, const char *name);

/* <img> with the bytes of the picture inside: the SVG where it is small, otherwise the PNG, since a map as SVG is ten times
 * as large. False, and nothing written, where there is no such picture.                                             */
bool brv_page_image(FILE *to, const char *folder, const char *name, const char *alt);

/* <figure>: the same in a box that scrolls where the screen is narrow, its caption below; `name` is its id. */
void brv_page_figure(FILE *to, const char *folder, const char *name, const char *alt, const char *caption);

#endif
