#include "lesson/lessons.h"

const struct brv_lesson *const brv_lessons[] = {
    &brv_lesson_why_nanoseconds,
    NULL,
};
