/* Text for the terminal: sentences broken between words under a label. */
#ifndef BRV_CLI_REPORT_WORDS_H
#define BRV_CLI_REPORT_WORDS_H

#include <stddef.h>
#include <stdio.h>

enum { BRV_WORDS_WIDTH = 108, BRV_WORDS_INDENT = 9 };

/* How wide the text is written: BRV_WORDS_WIDTH or what brv_words_fit was told. */
size_t brv_words_width(void);
void brv_words_fit(size_t columns); /* 0: the usual width again */

/* `LABEL    text ...`, continued under its start. Returns how many lines it takes at the usual width, so
 * that a narrow terminal leaves nothing out that others show; `to` NULL: only counts them.                          */
int brv_words_wrap(FILE *to, const char *label, const char *text);

/* More at the end of the text in `out`, which has `room` bytes; made as by printf, cut where the room ends. */
void brv_words_append(char *out, size_t room, const char *format, ...) __attribute__((format(printf, 3, 4)));

#endif
