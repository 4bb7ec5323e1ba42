/* A number with what it is for darker and for paler pigment, or for other inputs that are named where it is used. */
#ifndef BRV_SIDE_BOUNDS_H
#define BRV_SIDE_BOUNDS_H

struct brv_bounds {
    double value, low, high; /* low <= value <= high */
};

#endif
