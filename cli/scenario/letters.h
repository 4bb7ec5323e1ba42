/* Text of a user, letter by letter in UTF-8: how wide it is, where it may be cut, what must not reach a terminal. A letter
 * here is a code point; text that is not UTF-8 is taken byte by byte. Test: tests/unit/test_letters.c.             */
#ifndef BRV_CLI_SCENARIO_LETTERS_H
#define BRV_CLI_SCENARIO_LETTERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* The letter at `text`, and in `*length` how many bytes it has (0 at the end of the text). A byte that begins no letter
 * is one of one byte, 0xFFFD.                                                                                       */
uint32_t brv_letters_at(const char *text, size_t *length);

/* Was that such a byte? The letter U+FFFD itself, which stands for one in texts of others, has three. */
bool brv_letters_is_broken(uint32_t letter, size_t length);

/* Would it move a cursor, end a line, or turn the order of the letters around it? ASCII controls with tab and line ends,
 * U+007F to U+009F, the line ends U+2028 and U+2029, and what embeds or overrides a direction: U+202A to U+202E, U+2066
 * to U+2069. Letters written from right to left, and the marks U+200E, U+200F and U+061C, are letters as others.    */
bool brv_letters_is_control(uint32_t letter);

/* Columns that a terminal gives to the text: two for letters of East Asia and pictures, none for accents that are put
 * on the letter before. By the ranges of Unicode's East Asian Width, from memory and without their exceptions.    */
size_t brv_letters_columns(const char *text, size_t bytes);

/* How many bytes of `text` are whole letters in at most `bytes` bytes. */
size_t brv_letters_bytes(const char *text, size_t bytes);

/* The text as it is, or as many whole letters as fit with an ellipsis in `columns` columns and `room` bytes, its 0
 * included; nothing where the ellipsis itself has no room. Returns `out`.                                           */
const char *brv_letters_cut(char *out, size_t room, const char *text, size_t columns);

/* Writes the text with every control, and every byte that begins no letter, as `?`: for a line of a terminal. */
void brv_letters_tell(FILE *to, const char *text);

/* The same, cut with an ellipsis to `room` bytes: for a line of a terminal. Returns `out`. */
const char *brv_letters_shown(char *out, size_t room, const char *text);

#endif
