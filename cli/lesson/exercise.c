#include "lesson/exercise.h"

#include <stdlib.h>

enum { MOST_STEPS = 9 };

const char *brv_exercise_number(const struct brv_exercise *exercise)
{
    static const char *const number[MOST_STEPS + 1] = {"1", "2", "3", "4", "5", "6", "7", "8", "9", ""};
    size_t n = 0;
    for (size_t i = 0; i < exercise->answer.n; i++)
        n += *exercise->answer.line[i].label >= '1' && *exercise->answer.line[i].label <= '9';
    return number[n < MOST_STEPS ? n : MOST_STEPS];
}

struct brv_exercise_figure *brv_exercise_draw(struct brv_exercise *exercise, const char *name,
                                              enum brv_exercise_side side, const char *caption, FILE **to)
{
    struct brv_exercise_figure *figure =
        exercise->n_figure < BRV_EXERCISE_FIGURES ? &exercise->figure[exercise->n_figure] : NULL;
    *to = NULL;
    if (figure) {
        *figure = (struct brv_exercise_figure){.name = name, .side = side, .caption = caption};
        *to = open_memstream(&figure->csv, &figure->size);
    }
    if (*to) exercise->n_figure++;
    exercise->full |= !*to;
    return *to ? figure : NULL;
}

void brv_exercise_drawn(struct brv_exercise *exercise, FILE *to)
{
    const bool failed = ferror(to) != 0;
    exercise->full |= fclose(to) != 0 || failed; /* both must be looked at */
}

void brv_exercise_free(struct brv_exercise *exercise)
{
    for (size_t i = 0; i < exercise->n_figure; i++) {
        free(exercise->figure[i].csv);
        exercise->figure[i].csv = NULL;
    }
    exercise->n_figure = 0;
}
