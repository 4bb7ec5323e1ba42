#include "light/crossing.h"

#include "light/fresnel.h"

#include <math.h>

static double draw_or_spare(const struct brv_walk *walk, struct brv_crossing *photon)
{
    const double spare = photon->spare;
    photon->spare = 0.0;
    return spare > 0.0 ? spare : brv_walk_draw(walk, photon->counter);
}

/* A way through a clear layer counts by its length, shared among the depth cells; the ring is that of a random point
 * of each part, which is right in the mean. Elsewhere interactions count.                                         */
static void score_way(const struct brv_walk *walk, struct brv_walk_tally *tally, struct brv_crossing *photon,
                      double way)
{
    const double *face = walk->depth.face;
    const size_t columns = walk->ring.n + 1;
    const double end = photon->z + photon->to_z * way;
    const double high = fmin(photon->z, end), low = fmax(photon->z, end);
    for (size_t cell = brv_bins_find(&walk->depth, high); cell < walk->depth.n && face[cell] < low; cell++) {
        const double from = fmax(face[cell], high), to = fmin(face[cell + 1], low);
        const double z = from + (to - from) * brv_walk_draw(walk, photon->counter);
        const double part = (z - photon->z) / photon->to_z;
        const double x = photon->x + photon->to_x * part, y = photon->y + photon->to_y * part;
        const size_t column = brv_bins_find(&walk->ring, x * x + y * y);
        tally->map[cell * columns + column] += photon->weight * (to - from) / fabs(photon->to_z);
    }
}

/* fmax of the library minds what is not a number, and so is a call. */
static double not_below_zero(double x)
{
    return x > 0.0 ? x : 0.0;
}

/* To the face ahead. */
static void reach_face(const struct brv_walk *walk, struct brv_walk_tally *tally, struct brv_crossing *photon)
{
    const struct brv_walk_layer *layer = &walk->layer[photon->layer];
    const double face = photon->to_z > 0.0 ? layer->bottom : layer->top;
    const double way = not_below_zero((face - photon->z) / photon->to_z);
    if (layer->extinction == 0.0 && way > 0.0) score_way(walk, tally, photon, way);
    photon->x += photon->to_x * way;
    photon->y += photon->to_y * way;
    photon->z = face;
    photon->optical = not_below_zero(photon->optical - layer->extinction * way);
}

/* Mirrored or refracted at the face it stands on. True when it is through. */
static bool pass_face(const struct brv_walk *walk, struct brv_crossing *photon, double index, double beyond)
{
    if (index == beyond) return true;
    const double cosine = fabs(photon->to_z), refracted = brv_fresnel_cosine(index, cosine, beyond);
    const double reflectance = brv_fresnel_reflectance(index, cosine, beyond, refracted);
    if (reflectance >= 1.0 || draw_or_spare(walk, photon) < reflectance) {
        photon->to_z = -photon->to_z;
        return false;
    }
    photon->to_x *= index / beyond;
    photon->to_y *= index / beyond;
    photon->to_z = copysign(refracted, photon->to_z);
    return true;
}

/* Through the face ahead or back from it. False when the photon has left the layers. */
static bool meet_face(const struct brv_walk *walk, struct brv_walk_tally *tally, struct brv_crossing *photon)
{
    const bool down = photon->to_z > 0.0, outermost = down ? photon->layer + 1 == walk->n_layer : photon->layer == 0;
    const double beyond = !outermost ? walk->layer[down ? photon->layer + 1 : photon->layer - 1].index
                          : down     ? walk->below_index
                                     : walk->outside_index;
    if (!pass_face(walk, photon, walk->layer[photon->layer].index, beyond)) return true;
    if (outermost) {
        *(down ? &tally->transmitted : &tally->reflected) += photon->weight;
        return false;
    }
    photon->layer = down ? photon->layer + 1 : photon->layer - 1;
    return true;
}

/* Goes the optical way that is left. True: it ends inside the photon's layer, and there the photon is now. */
static bool arrive(struct brv_crossing *photon, const struct brv_walk_layer *layer)
{
    if (layer->extinction == 0.0) return false;
    const double way = photon->optical * layer->free_path, z = photon->z + photon->to_z * way;
    if (!(z >= layer->top && z <= layer->bottom)) return false;
    photon->x += photon->to_x * way;
    photon->y += photon->to_y * way;
    photon->z = z;
    return true;
}

bool brv_crossing_run(struct brv_crossing *photon, const struct brv_walk *walk, struct brv_walk_tally *tally)
{
    do {
        const struct brv_walk_layer *layer = &walk->layer[photon->layer];
        if (photon->to_z > 0.0 && isinf(layer->bottom)) {
            score_way(walk, tally, photon, INFINITY);
            tally->transmitted += photon->weight;
            return false;
        }
        reach_face(walk, tally, photon);
        if (!meet_face(walk, tally, photon)) return false;
    } while (!arrive(photon, &walk->layer[photon->layer]));
    return true;
}
