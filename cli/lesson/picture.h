/* A drawn figure inside a page, so that the page needs no other file. */
#ifndef BRV_CLI_LESSON_PICTURE_H
#define BRV_CLI_LESSON_PICTURE_H

#include <stdbool.h>
#include <stdio.h>

/* Writes folder/NAME.svg as <img> with its bytes in base64 and `text` for who cannot see it. False, and nothing written, when
 * there is no such figure.                                                                                          */
bool brv_picture_put(FILE *to, const char *folder, const char *name, const char *text);

#endif
