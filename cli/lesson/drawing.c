#include "lesson/drawing.h"

#include <stdio.h>

void brv_drawing_compared(struct brv_page *page, const struct brv_compared *compared)
{
    FILE *to;
    char asked[BRV_ASKED_SIZE];
    struct brv_page_figure *figure =
        brv_page_draw(page, "compare", BRV_WITH_ANSWER, "The choices side by side, as brevis compare draws them.", &to);
    if (!figure) return;
    snprintf(figure->asked, sizeof figure->asked, "%s", brv_compared_asked(asked, compared));
    brv_compared_csv(to, compared);
    brv_page_drawn(page, to);
}
