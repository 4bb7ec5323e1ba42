#include "lesson/page.h"

#include <stdlib.h>

enum { MOST_STEPS = 9 };

const char *brv_page_number(const struct brv_page *page)
{
    static const char *const number[MOST_STEPS + 1] = {"1", "2", "3", "4", "5", "6", "7", "8", "9", ""};
    size_t n = 0;
    for (size_t i = 0; i < page->answer.n; i++)
        n += *page->answer.line[i].label >= '1' && *page->answer.line[i].label <= '9';
    return number[n < MOST_STEPS ? n : MOST_STEPS];
}

struct brv_page_figure *brv_page_draw(struct brv_page *page, const char *name, enum brv_page_side side,
                                      const char *caption, FILE **to)
{
    struct brv_page_figure *figure = page->n_figure < BRV_PAGE_FIGURES ? &page->figure[page->n_figure] : NULL;
    *to = NULL;
    if (figure) {
        *figure = (struct brv_page_figure){.name = name, .side = side, .caption = caption};
        *to = open_memstream(&figure->csv, &figure->size);
    }
    if (*to) page->n_figure++;
    page->full |= !*to;
    return *to ? figure : NULL;
}

void brv_page_drawn(struct brv_page *page, FILE *to)
{
    const bool failed = ferror(to) != 0;
    page->full |= fclose(to) != 0 || failed; /* both must be looked at */
}

void brv_page_free(struct brv_page *page)
{
    for (size_t i = 0; i < page->n_figure; i++) {
        free(page->figure[i].csv);
        page->figure[i].csv = NULL;
    }
    page->n_figure = 0;
}
