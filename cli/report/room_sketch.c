/* Distances of a room card to scale, as lines of an SVG inside the page. */
#include "report/room.h"

#include <math.h>

/* The scale is logarithmic: decades from LEAST on, in units of the drawing. */
#define LEAST  0.1 /* [m] */
#define DECADE 130.0
#define LEFT   190.0
#define STEP   15.0

enum { DECADES = 4 };

static double place_of(double distance)
{
    const double decades = log10(fmax(distance, LEAST) / LEAST);
    return LEFT + DECADE * fmin(decades, DECADES);
}

static void put_scale(FILE *to, double bottom)
{
    static const char *const label[DECADES + 1] = {"0.1 m", "1 m", "10 m", "100 m", "1 km"};
    for (int i = 0; i <= DECADES; i++) {
        const double x = LEFT + DECADE * i;
        fprintf(to, "<line x1=\"%.1f\" y1=\"14\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"#999\" stroke-width=\"0.5\"/>\n", x,
                x, bottom);
        fprintf(to, "<text x=\"%.1f\" y=\"10\" text-anchor=\"middle\">%s</text>\n", x, label[i]);
    }
}

/* One bar, from the spot to where the limit is met; thin up to its high end. `without` stands where there is none. */
static void put_bar(FILE *to, double y, const char *name, int edition, double value, double high, const char *without)
{
    const char *dash = edition == BRV_EU_2006 ? " stroke-dasharray=\"5 2\"" : "";
    fprintf(to, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"end\">%s, %s</text>\n", LEFT - 6.0, y + 3.0, name,
            brv_room_edition(edition));
    if (value > 0.0)
        fprintf(to, "<line x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"#000\" stroke-width=\"4\"%s/>\n",
                LEFT, y, place_of(value), y, dash);
    if (high > value)
        fprintf(to, "<line x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"#000\" stroke-width=\"1\"/>\n",
                value > 0.0 ? place_of(value) : LEFT, y, place_of(high), y);
    if (!(value > 0.0)) fprintf(to, "<text x=\"%.1f\" y=\"%.1f\">%s</text>\n", place_of(high) + 4.0, y + 3.0, without);
    if (value > LEAST * pow(10.0, DECADES))
        fprintf(to, "<text x=\"%.1f\" y=\"%.1f\">&gt;</text>\n", LEFT + DECADE * DECADES + 2.0, y + 3.0);
}

static void put_bars(FILE *to, const struct brv_room_card *card, double *y)
{
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        const struct brv_hazard_edition *one = &card->hazard->edition[edition];
        if (!one->asked || !one->exposure[BRV_EYE].covered) continue;
        put_bar(to, *y += STEP, "scattered, as a point", edition, one->scattered.point, one->most.point, "");
        put_bar(to, *y += STEP, "scattered, as wide as the spot", edition, one->scattered.distance, one->most.distance,
                "not reached, counted that wide: take the bar above it");
        if (card->hazard->divergence > 0.0)
            put_bar(to, *y += STEP, "along the beam", edition, one->beam, 0.0, "nowhere, as assumed");
    }
}

static void put_person(FILE *to, const struct brv_room_card *card, double bottom)
{
    const double distance = card->request->scenario.room.distance, x = place_of(distance);
    if (!(distance > 0.0)) return;
    fprintf(to, "<line x1=\"%.1f\" y1=\"14\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"#000\" stroke-width=\"1\"/>\n", x, x,
            bottom);
    fprintf(to, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">somebody</text>\n", x, bottom + 10.0);
}

static size_t bars_of(const struct brv_room_card *card)
{
    size_t n = 0;
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        const struct brv_hazard_edition *one = &card->hazard->edition[edition];
        if (one->asked && one->exposure[BRV_EYE].covered) n += card->hazard->divergence > 0.0 ? 3 : 2;
    }
    return n;
}

void brv_room_sketch(FILE *to, const struct brv_room_card *card)
{
    const double bottom = 22.0 + STEP * (double)bars_of(card), width = LEFT + DECADE * DECADES + 25.0;
    double y = 8.0;
    fprintf(to,
            "<svg viewBox=\"0 0 %.0f %.0f\" width=\"100%%\" font-family=\"sans-serif\" font-size=\"9\" role=\"img\" "
            "aria-label=\"distances at which the limit of the eye is met\">\n",
            width, bottom + 14.0);
    put_scale(to, bottom);
    put_bars(to, card, &y);
    put_person(to, card, bottom);
    fputs("</svg>\n", to);
}
