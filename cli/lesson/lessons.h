/* Every lesson, for the table in lessons.c. Lessons on one matter stand in one file. */
#ifndef BRV_CLI_LESSON_LESSONS_H
#define BRV_CLI_LESSON_LESSONS_H

#include "lesson/lesson.h"

/* pulse.c: how long a pulse lasts */
extern const struct brv_lesson brv_lesson_why_nanoseconds;
extern const struct brv_lesson brv_lesson_relaxation_time;
extern const struct brv_lesson brv_lesson_how_short;

/* light.c: where the light goes */
extern const struct brv_lesson brv_lesson_wider_spot;
extern const struct brv_lesson brv_lesson_wavelength_and_depth;
extern const struct brv_lesson brv_lesson_air_gel_plate;

/* warmth.c: heat that stays */
extern const struct brv_lesson brv_lesson_ten_a_second;
extern const struct brv_lesson brv_lesson_warm_dermis;

/* margin.c: lesion and neighbour */
extern const struct brv_lesson brv_lesson_tan;
extern const struct brv_lesson brv_lesson_how_low;

/* sites.c: where the skin is, and what lies on it */
extern const struct brv_lesson brv_lesson_thin_neck;
extern const struct brv_lesson brv_lesson_film_on_skin;

/* covering.c: how spots lie on skin */
extern const struct brv_lesson brv_lesson_overlap;
extern const struct brv_lesson brv_lesson_passes_by_chance;
extern const struct brv_lesson brv_lesson_twice_the_rate;

/* slips.c: what hand and meter get wrong */
extern const struct brv_lesson brv_lesson_tilt_or_spot_error;
extern const struct brv_lesson brv_lesson_display_and_delivery;

/* people.c: who is in the room, whose skin it is, and when they come back */
extern const struct brv_lesson brv_lesson_which_goggles;
extern const struct brv_lesson brv_lesson_skin_type_or_colour;
extern const struct brv_lesson brv_lesson_later_visit;

#endif
