#include "effect/confinement.h"

double brv_confinement_time(double diameter, double sound_speed)
{
    return diameter / sound_speed;
}
