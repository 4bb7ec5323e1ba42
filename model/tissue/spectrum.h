/* The measured spectra the model rests on; each file holds its data and says where they come from. */
#ifndef BRV_TISSUE_SPECTRUM_H
#define BRV_TISSUE_SPECTRUM_H

#include "base/table.h"

extern const struct brv_table brv_spectrum_oxyhaemoglobin;   /* [1/(cm M)] against nm, 400-1000 */
extern const struct brv_table brv_spectrum_deoxyhaemoglobin; /* [1/(cm M)] against nm, 400-1000 */
extern const struct brv_table brv_spectrum_water;            /* [1/cm]     against nm, 400-1100 */

#endif
