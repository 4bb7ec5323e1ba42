#include "side/lid.h"

#include "base/constants.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "side/shares.h"

static size_t dermis_of(const struct brv_skin *skin)
{
    for (size_t i = 0; i < skin->n_layer; i++)
        if (skin->layer[i].kind == BRV_DERMIS) return i;
    return skin->n_layer - 1;
}

struct brv_scenario brv_lid_scenario(const struct brv_scenario *ask, double dermis)
{
    struct brv_scenario copy = brv_film_removed(ask); /* a lid may be clean: what is on it is no shield */
    struct brv_skin *skin = &copy.skin[BRV_NEIGHBOUR];
    const size_t cut = dermis_of(skin);
    skin->n_layer = cut + 1;
    skin->layer[cut].thickness = dermis;
    if (skin->grain.layer > (int)cut) skin->grain.layer = -1;
    copy.below.index = BRV_EYE_INDEX;
    return copy;
}

static brv_status pass(double *share, const struct brv_scenario *ask, double dermis, double darkness,
                       struct brv_error *error)
{
    const struct brv_scenario lid = brv_lid_scenario(ask, dermis);
    struct brv_light_shares shares;
    const brv_status status = brv_shares_solve(&shares, &lid, darkness, error);
    *share = shares.through;
    return status;
}

brv_status brv_lid_solve(struct brv_lid *lid, const struct brv_scenario *ask, struct brv_error *error)
{
    const struct brv_key *key = &brv_keys[brv_key_find(BRV_SCOPE_ROOM, "lid")];
    const bool given = brv_key_given(&ask->room, BRV_SCOPE_ROOM, "lid");
    const double thin = given ? ask->room.lid : key->low[0], thick = given ? ask->room.lid : key->high[0];
    const struct brv_scenario cut = brv_lid_scenario(ask, ask->room.lid);
    *lid = (struct brv_lid){.dermis = ask->room.lid, .whole = brv_skin_thickness(&cut.skin[BRV_NEIGHBOUR])};
    brv_status status = pass(&lid->passes.value, ask, ask->room.lid, 1.0, error);
    if (!status) status = pass(&lid->passes.low, ask, thick, BRV_DARKNESS_HIGH, error);
    if (!status) status = pass(&lid->passes.high, ask, thin, BRV_DARKNESS_LOW, error);
    if (status) *lid = (struct brv_lid){.whole = 0.0};
    return status;
}
