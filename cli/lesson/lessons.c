#include "lesson/lessons.h"

#include "lesson/numbers.h"

/* In the order of the list; a group's lessons together. */
const struct brv_lesson *const brv_lessons[] = {
    &brv_lesson_why_nanoseconds,
    &brv_lesson_relaxation_time,
    &brv_lesson_how_short,
    &brv_lesson_wider_spot,
    &brv_lesson_wavelength_and_depth,
    &brv_lesson_air_gel_plate,
    &brv_lesson_film_on_skin,
    &brv_lesson_thin_neck,
    &brv_lesson_ten_a_second,
    &brv_lesson_warm_dermis,
    &brv_lesson_tan,
    &brv_lesson_how_low,
    &brv_lesson_skin_type_or_colour,
    &brv_lesson_later_visit,
    &brv_lesson_overlap,
    &brv_lesson_passes_by_chance,
    &brv_lesson_twice_the_rate,
    &brv_lesson_tilt_or_spot_error,
    &brv_lesson_display_and_delivery,
    &brv_lesson_which_goggles,
    NULL,
};

void brv_lesson_words(void (*offer)(const char *word, void *to), void *to)
{
    for (size_t i = 0; brv_lessons[i]; i++) offer(brv_lessons[i]->name, to);
    offer(BRV_NUMBERS_NAME, to);
}
