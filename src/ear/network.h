// SPDX-License-Identifier: GPL-3.0-or-later
/// The trained network, and the file that holds it.
///
/// From rows of bands to log-odds (after Davies and Böck 2019; Böck and Davies 2020): three convolutions over time and
/// bands with pooling of the bands, until one column of `channels` values a row is left; what is known beforehand is
/// added; then layers of two dilated convolutions over time side by side, 1, 2, 4 ... rows apart and twice as far, each
/// layer's result added to what it was made from. The sum of the results of all layers gives the outputs.
///
/// The file, every number little-endian:
///
///     bytes  0- 7  "CWEARNET"
///            8-11  version, CW_EAR_VERSION
///           12-15  CRC-32 (of ISO 3309, as in zlib) of all that follows
///           16-39  six sizes: bands, width, channels, layers, outputs, hint
///           40-    matrices as IEEE 754 halves, each n_in rows of n_out weights, then n_out to add:
///                  first (9 inputs: row by band), second (8 bands by width), third (3 rows by 4 bands by width),
///                  hint (without anything to add; none where `hint` is 0),
///                  for each layer near, far (5 rows by channels, earliest first), mix (2 by channels),
///                  last (channels)
#ifndef CW_EAR_NETWORK_H
#define CW_EAR_NETWORK_H

#include <stddef.h>

#include "countwright/features.h"
#include "countwright/status.h"
#include "ear/matrix.h"

#define CW_EAR_VERSION 1
#define CW_EAR_MOST_LAYERS 12
#define CW_EAR_MOST_OUTPUTS 3 ///< beat, downbeat, phrase
#define CW_EAR_HINTS 21       ///< values of a hint, where there is one

// Bands that each convolution takes, and that are left after the pooling that follows, which takes the most of three and
// leaves out what is over.
#define CW_EAR_POOL 3
#define CW_EAR_FIRST_BANDS 3
#define CW_EAR_SECOND_BANDS 8
#define CW_EAR_THIRD_BANDS 4
#define CW_EAR_FIRST_POOLED ((CW_HEARD_BANDS - CW_EAR_FIRST_BANDS + 1) / CW_EAR_POOL)
#define CW_EAR_SECOND_POOLED ((CW_EAR_FIRST_POOLED - CW_EAR_SECOND_BANDS + 1) / CW_EAR_POOL)

/// A layer. Its rows lie `dilation` apart for `near`, twice that for `far`.
typedef struct {
  CwMatrix near;
  CwMatrix far;
  CwMatrix mix;
  size_t dilation;
} CwEarLayer;

/// The network. Release with cw_network_free().
typedef struct {
  size_t width;    ///< of the first two convolutions
  size_t channels; ///< of the layers
  size_t n_layers;
  size_t n_outputs; ///< 2 or 3
  size_t n_hints;   ///< 0 or CW_EAR_HINTS
  CwMatrix first;
  CwMatrix second;
  CwMatrix third;
  CwMatrix hint; ///< no bias
  CwEarLayer layer[CW_EAR_MOST_LAYERS];
  CwMatrix last;
  float *values; ///< what the matrices point into
} CwNetwork;

/// Read a network.
/// @param[out] network Empty on error.
/// @return CW_OK, CW_ERR_SYNTAX (not such a file, another version, spoilt, or of sizes that cannot be) or
/// CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_network_read(const unsigned char *file, size_t size, CwNetwork *network);

/// Release and set to empty.
void cw_network_free(CwNetwork *network);

/// The file that is part of the library.
extern const unsigned char cw_network_file[];
size_t cw_network_file_size(void);

#endif
