#include "light/walk.h"

#include "base/constants.h"
#include "base/random.h"
#include "light/crossing.h"
#include "light/fresnel.h"

#include <assert.h>
#include <math.h>

static const double HUGE_PATH = 1e200; /* of a clear layer; huge, but products with it stay finite */

/* Below this weight a photon goes on with this chance, and then so much heavier. Chosen by 1/(sigma^2 x time) in skin at
 * 532 and 1064 nm, 0 to 2 mm: twice that of 0.001 and 0.1, and nearly flat about here.                             */
static const double ROULETTE_BELOW = 0.2, ROULETTE_CHANCE = 0.4;

/* One batch under way. */
struct party {
    const struct brv_walk *walk;
    struct brv_walk_tally *tally;
    struct brv_lanes *block;
    size_t columns;
    size_t alive;       /* the first lanes, without gaps */
    uint64_t next, end; /* photons still to enter */
    size_t n_dead;      /* lanes that ended in this step, ascending */
    uint16_t dead[BRV_WALK_BLOCKS * BRV_LANES];
};

double brv_walk_draw(const struct brv_walk *walk, uint32_t counter[4])
{
    counter[3]++;
    return brv_random_short(brv_random_draw(walk->scales.key, counter).word[0]);
}

static void count_to(uint32_t counter[4], const struct brv_lanes *lanes, size_t i)
{
    counter[0] = (uint32_t)lanes->photon[i];
    counter[1] = (uint32_t)(lanes->photon[i] >> 32);
    counter[2] = (uint32_t)lanes->step[i];
    counter[3] = 0;
}

static void put_into(struct brv_lanes *lanes, size_t i, const struct brv_walk_layer *layer, size_t number)
{
    lanes->layer[i] = number;
    lanes->top[i] = layer->lane.top;
    lanes->bottom[i] = layer->lane.bottom;
    lanes->free_path[i] = layer->lane.free_path;
    lanes->loss[i] = layer->lane.loss;
    lanes->start[i] = layer->lane.start;
    lanes->slope[i] = layer->lane.slope;
    lanes->bend[i] = layer->lane.bend;
    lanes->offset[i] = layer->lane.offset;
    lanes->spread[i] = layer->lane.spread;
}

/* Where in the beam the photon starts: even over the disc, or exp(-2 r^2 / w^2) of the area. */
static void start_aside(const struct brv_walk *walk, struct brv_lanes *lanes, size_t i)
{
    uint32_t counter[4];
    count_to(counter, lanes, i);
    const double inside = brv_walk_draw(walk, counter), around = brv_walk_draw(walk, counter),
                 side = brv_walk_draw(walk, counter);
    const double edge = 0.5 * walk->spread;
    const double radius = edge * sqrt(walk->gaussian ? 0.5 * brv_lanes_minus_log(inside) : inside);
    const double sine = brv_lanes_sine(around - 0.5);
    lanes->x[i] = radius * sine;
    lanes->y[i] = (side < 0.5 ? -radius : radius) * sqrt(fabs((1.0 - sine) * (1.0 + sine)));
}

static void enter(struct party *party, size_t lane)
{
    struct brv_lanes *lanes = &party->block[lane / BRV_LANES];
    const size_t i = lane % BRV_LANES;
    lanes->photon[i] = party->next++;
    lanes->step[i] = 0;
    lanes->x[i] = lanes->y[i] = lanes->z[i] = 0.0;
    lanes->to_x[i] = lanes->to_y[i] = 0.0;
    lanes->to_z[i] = 1.0;
    lanes->weight[i] = 1.0 - party->walk->mirrored;
    lanes->absorbed[i] = 0.0;
    put_into(lanes, i, &party->walk->layer[0], 0);
    if (party->walk->spread > 0.0) start_aside(party->walk, lanes, i);
}

static void move(struct party *party, size_t from, size_t to)
{
    const struct brv_lanes *source = &party->block[from / BRV_LANES];
    struct brv_lanes *target = &party->block[to / BRV_LANES];
    const size_t i = from % BRV_LANES, j = to % BRV_LANES;
    target->photon[j] = source->photon[i];
    target->step[j] = source->step[i];
    target->x[j] = source->x[i];
    target->y[j] = source->y[i];
    target->z[j] = source->z[i];
    target->to_x[j] = source->to_x[i];
    target->to_y[j] = source->to_y[i];
    target->to_z[j] = source->to_z[i];
    target->weight[j] = source->weight[i];
    target->absorbed[j] = source->absorbed[i];
    put_into(target, j, &party->walk->layer[source->layer[i]], source->layer[i]);
}

/* New photons into the places of ended ones; when there are none left, the last lanes move up. */
static void renew(struct party *party)
{
    while (party->n_dead > 0) {
        const size_t lane = party->dead[--party->n_dead];
        if (party->next < party->end) {
            enter(party, lane);
        } else {
            party->alive--;
            if (lane != party->alive) move(party, party->alive, lane);
        }
    }
}

static void take_out(struct brv_crossing *photon, const struct brv_lanes *lanes, size_t i)
{
    *photon = (struct brv_crossing){lanes->x[i],
                                    lanes->y[i],
                                    lanes->z[i],
                                    lanes->to_x[i],
                                    lanes->to_y[i],
                                    lanes->to_z[i],
                                    lanes->weight[i],
                                    lanes->optical[i],
                                    lanes->layer[i],
                                    lanes->spare[i],
                                    {0}};
    count_to(photon->counter, lanes, i);
}

static void put_back(const struct party *party, const struct brv_crossing *photon, struct brv_lanes *lanes, size_t i)
{
    lanes->x[i] = photon->x;
    lanes->y[i] = photon->y;
    lanes->z[i] = photon->z;
    lanes->to_x[i] = photon->to_x;
    lanes->to_y[i] = photon->to_y;
    lanes->to_z[i] = photon->to_z;
    if (photon->layer != lanes->layer[i]) put_into(lanes, i, &party->walk->layer[photon->layer], photon->layer);
}

static void settle_absorbed(const struct party *party, struct brv_lanes *lanes, size_t i)
{
    party->tally->absorbed[lanes->layer[i]] += lanes->absorbed[i];
    lanes->absorbed[i] = 0.0;
}

/* A lane whose way led out of its layer. When the photon leaves, it goes on without weight and ends at once. */
static void cross_lane(const struct party *party, struct brv_lanes *lanes, size_t i)
{
    struct brv_crossing photon;
    settle_absorbed(party, lanes, i);
    take_out(&photon, lanes, i);
    if (!brv_crossing_run(&photon, party->walk, party->tally)) {
        lanes->weight[i] = lanes->scored[i] = 0.0;
        return;
    }
    put_back(party, &photon, lanes, i);
    const struct brv_walk *walk = party->walk;
    const double loss = lanes->weight[i] * lanes->loss[i];
    lanes->square[i] = photon.x * photon.x + photon.y * photon.y;
    lanes->depth_place[i] = brv_bins_place(&walk->depth, photon.z);
    lanes->ring_place[i] = brv_bins_place(&walk->ring, lanes->square[i]);
    lanes->scored[i] = lanes->weight[i] * lanes->free_path[i];
    lanes->absorbed[i] += loss;
    lanes->weight[i] -= loss;
}

/* Where the crossing of faces may have used the spare number. */
static double draw_afresh(const struct brv_walk *walk, const struct brv_lanes *lanes, size_t i)
{
    uint32_t counter[4];
    count_to(counter, lanes, i);
    counter[3] = UINT32_MAX - 1; /* far from the drawings of the crossing */
    return brv_walk_draw(walk, counter);
}

/* Light photons end by chance, and those that go on take their weight over: right in the mean. What this takes and
 * gives is counted, so that the budget still closes.                                                              */
static bool survive(const struct party *party, struct brv_lanes *lanes, size_t i)
{
    const double weight = lanes->weight[i];
    const double chance = lanes->out[i] ? draw_afresh(party->walk, lanes, i) : lanes->spare[i];
    const bool lives = weight > 0.0 && chance < ROULETTE_CHANCE;
    lanes->weight[i] = lives ? weight / ROULETTE_CHANCE : 0.0;
    party->tally->roulette += weight - lanes->weight[i];
    if (!lives) settle_absorbed(party, lanes, i);
    return lives;
}

static size_t in_block(const struct party *party, size_t block)
{
    const size_t left = party->alive - block * BRV_LANES;
    return left < BRV_LANES ? left : BRV_LANES;
}

static void cross_faces(const struct party *party)
{
    for (size_t block = 0; block * BRV_LANES < party->alive; block++) {
        struct brv_lanes *lanes = &party->block[block];
        for (size_t i = 0; i < in_block(party, block); i++)
            if (lanes->out[i]) cross_lane(party, lanes, i);
    }
}

/* Into the map. Photons that have left score nothing. */
static void score(const struct party *party, const struct brv_lanes *lanes, size_t n)
{
    const struct brv_bins depth = party->walk->depth, ring = party->walk->ring;
    const size_t columns = party->columns;
    double *map = party->tally->map;
    for (size_t i = 0; i < n; i++) {
        const size_t row = brv_bins_from(&depth, lanes->depth_place[i], lanes->z[i]);
        const size_t column = brv_bins_from(&ring, lanes->ring_place[i], lanes->square[i]);
        map[row * columns + column] += lanes->scored[i];
    }
}

static void end_light_ones(struct party *party, size_t block, size_t n)
{
    struct brv_lanes *lanes = &party->block[block];
    for (size_t i = 0; i < n; i++) {
        if (lanes->weight[i] >= ROULETTE_BELOW || survive(party, lanes, i)) continue;
        party->dead[party->n_dead++] = (uint16_t)(block * BRV_LANES + i);
        if (lanes->scored[i] == 0.0) party->tally->events--; /* it had left */
    }
}

/* What photons do one by one after the common step. */
static void attend(struct party *party)
{
    party->tally->events += party->alive;
    cross_faces(party);
    for (size_t block = 0; block * BRV_LANES < party->alive; block++) {
        score(party, &party->block[block], in_block(party, block));
        end_light_ones(party, block, in_block(party, block));
    }
}

bool brv_walk_batch(const struct brv_walk *walk, struct brv_walk_tally *tally, struct brv_lanes *block, uint64_t first,
                    uint64_t count)
{
    struct party party = {.walk = walk, .tally = tally, .block = block, .columns = walk->ring.n + 1};
    party.next = first;
    party.end = first + count;
    while (party.alive < BRV_WALK_BLOCKS * BRV_LANES && party.next < party.end) enter(&party, party.alive++);
    while (party.alive > 0) {
        if (walk->stop && *walk->stop) return false;
        const size_t n = (party.alive + BRV_LANES - 1) / BRV_LANES;
        walk->steps.go(block, n, &walk->scales);
        attend(&party);
        walk->steps.turn(block, n);
        renew(&party);
    }
    return true;
}

static void build_layer(struct brv_walk_layer *layer, const struct brv_medium *medium, double top)
{
    assert(medium->thickness > 0.0 && medium->absorption >= 0.0 && medium->scattering >= 0.0 && medium->index > 0.0);
    assert(medium->anisotropy >= 0.0 && medium->anisotropy < 1.0);
    layer->extinction = medium->absorption + medium->scattering;
    assert(isfinite(layer->extinction));
    const bool clear = layer->extinction == 0.0;
    layer->index = medium->index;
    layer->top = top;
    layer->bottom = top + medium->thickness;
    layer->free_path = clear ? 0.0 : 1.0 / layer->extinction;
    layer->albedo = clear ? 0.0 : medium->scattering / layer->extinction;
    layer->lane.top = top;
    layer->lane.bottom = clear ? top : layer->bottom;
    layer->lane.free_path = clear ? HUGE_PATH : layer->free_path;
    layer->lane.loss = clear ? 0.0 : medium->absorption / layer->extinction;
    brv_lanes_anisotropy(&layer->lane, medium->anisotropy);
}

static struct brv_lane_scale scale_of(const struct brv_bins *bins)
{
    return (struct brv_lane_scale){bins->face[1], bins->face[bins->n], bins->first, (uint64_t)bins->shift};
}

brv_status brv_walk_build(struct brv_walk *walk, const struct brv_sampled_ask *ask, struct brv_error *error)
{
    *walk = (struct brv_walk){.n_layer = ask->n_medium,
                              .outside_index = ask->outside_index,
                              .below_index = ask->below_index,
                              .spread = ask->spread,
                              .gaussian = ask->gaussian,
                              .stop = ask->stop};
    double top = 0.0;
    for (size_t i = 0; i < ask->n_medium; i++) {
        build_layer(&walk->layer[i], &ask->medium[i], top);
        top = walk->layer[i].bottom;
    }
    const double inside = brv_fresnel_cosine(ask->outside_index, 1.0, ask->medium[0].index);
    walk->mirrored = brv_fresnel_reflectance(ask->outside_index, 1.0, ask->medium[0].index, inside);
    const size_t fastest = brv_lanes_variants() - 1;
    walk->steps = brv_lanes_variant(ask->variant ? ask->variant - 1 : fastest);
    brv_status status = brv_bins_build(&walk->depth, ask->depth, ask->n_depth, 0, error);
    if (!status) status = brv_bins_build(&walk->ring, ask->ring, ask->n_ring, 1, error);
    if (status) {
        brv_walk_free(walk);
        return status;
    }
    walk->scales = (struct brv_lane_scales){.depth = scale_of(&walk->depth),
                                            .ring = scale_of(&walk->ring),
                                            .key = {(uint32_t)ask->seed, (uint32_t)(ask->seed >> 32)}};
    return BRV_OK;
}

void brv_walk_free(struct brv_walk *walk)
{
    brv_bins_free(&walk->depth);
    brv_bins_free(&walk->ring);
    *walk = (struct brv_walk){.n_layer = 0};
}
