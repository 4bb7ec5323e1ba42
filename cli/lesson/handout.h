/* A lesson's sheets as they are read: the hand-out, which does not tell the answer, and the worked answer; each as text and
 * as a page to print, A4, black and white, with its figures inside. No line asks for a name.                       */
#ifndef BRV_CLI_LESSON_HANDOUT_H
#define BRV_CLI_LESSON_HANDOUT_H

#include "lesson/lesson.h"

struct brv_handout {
    const struct brv_lesson *lesson;
    const struct brv_choices *choices;
    const struct brv_exercise *exercise;
    const char *folder; /* where the figures were drawn; NULL: none were */
};

void brv_handout_question_text(FILE *to, const struct brv_handout *handout);
void brv_handout_question_page(FILE *to, const struct brv_handout *handout);
void brv_handout_answer_text(FILE *to, const struct brv_handout *handout);
void brv_handout_answer_page(FILE *to, const struct brv_handout *handout);

/* All lessons, by group. */
void brv_handout_list(FILE *to);

#endif
