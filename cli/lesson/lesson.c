#include "lesson/lesson.h"

#include <stdlib.h>
#include <string.h>

const struct brv_lesson *brv_lesson_called(const char *name)
{
    for (size_t i = 0; brv_lessons[i]; i++)
        if (!strcmp(brv_lessons[i]->name, name)) return brv_lessons[i];
    return NULL;
}

/* Choices side by side, and then the lesson's own words for them. */
static brv_status teach(struct brv_exercise *exercise, const struct brv_lesson *lesson,
                        const struct brv_choices *choices, const struct brv_control *control, struct brv_error *error)
{
    struct brv_comparison comparison;
    struct brv_scenario *ask = calloc(choices->n, sizeof *ask);
    if (!ask) return brv_error_raise(error, BRV_MEMORY, "lesson");
    for (size_t i = 0; i < choices->n; i++) ask[i] = choices->choice[i].request.scenario;
    const brv_status status = brv_compare_solve(&comparison, choices->n, ask, control, error);
    free(ask);
    if (status) return status;
    lesson->teach(exercise, &(struct brv_compared){choices, &comparison});
    brv_comparison_free(&comparison);
    return BRV_OK;
}

brv_status brv_lesson_make(struct brv_exercise *exercise, const struct brv_lesson *lesson,
                           const struct brv_choices *choices, const struct brv_control *control,
                           struct brv_error *error)
{
    *exercise = (struct brv_exercise){.n_figure = 0};
    brv_status status = lesson->teach ? teach(exercise, lesson, choices, control, error)
                                      : lesson->solve(exercise, choices, control, error);
    if (!status && exercise->full) status = brv_error_raise(error, BRV_MEMORY, "lesson");
    if (status) {
        brv_exercise_free(exercise);
        *exercise = (struct brv_exercise){.n_figure = 0};
    }
    return status;
}
