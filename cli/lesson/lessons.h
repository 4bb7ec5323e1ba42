/* Every lesson, for the table in lessons.c. Lessons that share helpers stand in one file. */
#ifndef BRV_CLI_LESSON_LESSONS_H
#define BRV_CLI_LESSON_LESSONS_H

#include "lesson/lesson.h"

/* pulse.c: how long a pulse lasts */
extern const struct brv_lesson brv_lesson_why_nanoseconds;

#endif
