/* The sheets of the number problems: questions with lines to write on, the key with its working, and the key as CSV for who
 * teaches. The question sheet holds no key. Pages are A4, black and white, and ask nobody.                            */
#ifndef BRV_CLI_LESSON_NUMBERS_H
#define BRV_CLI_LESSON_NUMBERS_H

#include "lesson/problems.h"

#include <stdio.h>

#define BRV_NUMBERS_NAME     "numbers"
#define BRV_NUMBERS_GROUP    "WITH PENCIL AND PAPER"
#define BRV_NUMBERS_QUESTION "27 number problems, with --seed N a fresh sheet: can you reckon them?"

void brv_numbers_question_text(FILE *to, const struct brv_problems *problems);
void brv_numbers_question_page(FILE *to, const struct brv_problems *problems);
void brv_numbers_answer_text(FILE *to, const struct brv_problems *problems);
void brv_numbers_answer_page(FILE *to, const struct brv_problems *problems);

/* problem, subject, quantity, unit, key, published, by_hand, source, seen, ratio, key_si, unit_si: a row per key. Numbers
 * in the unit of the sheet, and the key in SI. `published` was printed by somebody else, `by_hand` worked out for this
 * project; `ratio` is the key over either. RFC 4180.                                                                  */
void brv_numbers_csv(FILE *to, const struct brv_problems *problems);

/* What the terminal shows: which problems there are; and with the answers, keys beside what is printed. */
void brv_numbers_question_summary(FILE *to, const struct brv_problems *problems);
void brv_numbers_answer_summary(FILE *to, const struct brv_problems *problems);

/* A key over what is printed for it; NAN where nothing is [1]. */
double brv_problem_ratio(const struct brv_problem_key *key);

/* Was it printed by somebody else, not worked out for this project? */
bool brv_problem_published(const struct brv_problem_key *key);

#endif
