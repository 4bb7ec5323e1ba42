/* A lesson: an everyday question, a scenario to find out, and a function that makes the worked answer from the numbers of
 * the same run. A lesson is one row in lessons.c, one scenario file and one short function.
 * What does not depend on numbers stands in the row and may not tell the answer; the answer's sentences are made by the
 * function, and a word that compares is chosen from the numbers (phrase.h).                                         */
#ifndef BRV_CLI_LESSON_LESSON_H
#define BRV_CLI_LESSON_LESSON_H

#include "base/status.h"
#include "lesson/exercise.h"
#include "report/compare.h"
#include "scenario/choices.h"

enum { BRV_LESSON_LINES = 6 };

/* Of lessons whose scenario has choices: what each of them came to. */
typedef void brv_lesson_teacher(struct brv_exercise *exercise, const struct brv_compared *compared);

/* Of others: solves what it wants, the scenario's choices being checked; a file without choices is one. */
typedef brv_status brv_lesson_solver(struct brv_exercise *exercise, const struct brv_choices *choices,
                                     const struct brv_control *control, struct brv_error *error);

struct brv_lesson {
    const char *name;                    /* "why_nanoseconds" */
    const char *group;                   /* heading in the list; lessons of a group stand together */
    const char *question;                /* in everyday words, one line in the list */
    const char *scenario;                /* below scenarios/: "lesson/why_nanoseconds.yaml" */
    const char *story;                   /* what is done there, for who has not seen the file */
    const char *guess[BRV_LESSON_LINES]; /* to tick; ends with NULL; the right one among them, at no fixed place */
    const char *ask[BRV_LESSON_LINES];   /* sub-questions with room to write; ends with NULL */
    const char *left_out;                /* what the model leaves out */
    const char *source;                  /* where each fact from outside stands; "" : none is used */
    const char *next;                    /* one question to go on with */
    brv_lesson_teacher *teach;           /* one of these two; */
    brv_lesson_solver *solve;            /* the other is NULL */
    const char *tool;                    /* command that looks at such a scenario; NULL: compare or run */
    const char *reading;                 /* what brackets and words mean here; NULL: as for heat and grains */
};

extern const struct brv_lesson *const brv_lessons[]; /* ends with NULL; in lessons.c */

/* The lesson of that name, or NULL. */
const struct brv_lesson *brv_lesson_called(const char *name);

/* The name of every lesson, and that of the sheet of problems. */
void brv_lesson_words(void (*offer)(const char *word, void *to), void *to);

/* Makes both sheets of a lesson from its scenario's choices. On failure the page comes back empty. */
brv_status brv_lesson_make(struct brv_exercise *exercise, const struct brv_lesson *lesson,
                           const struct brv_choices *choices, const struct brv_control *control,
                           struct brv_error *error) BRV_MUST_CHECK;

#endif
