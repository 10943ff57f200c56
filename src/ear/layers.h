// SPDX-License-Identifier: GPL-3.0-or-later
/// The second half of the network, as a stream: rows go in, and as many come out, delayed by as far as the network looks
/// ahead. Each layer keeps only the rows that it still needs, so memory does not grow with the recording, and nothing is
/// computed twice.
#ifndef CW_EAR_LAYERS_H
#define CW_EAR_LAYERS_H

#include "ear/network.h"

/// Rows that go in, and that come out, at a time.
#define CW_LAYERS_BLOCK 256

/// The stream. Release with cw_layers_free().
typedef struct {
  const CwNetwork *network;
  size_t n;                             ///< rows of the recording
  size_t given;                         ///< rows that went in, with those after the recording
  size_t delay[CW_EAR_MOST_LAYERS + 1]; ///< by how many rows each layer's input comes late, and the last one's output
  float *window[CW_EAR_MOST_LAYERS];    ///< each layer's last rows of input: 8 dilations and a block
  float *sum;                           ///< what the layers gave so far: delay[n_layers] rows and a block
  float *pair;                          ///< a block of what near and far dilations give
  float *result;                        ///< a block of what a layer gives
} CwLayers;

/// @param network Must outlive the stream. @param n Rows of the recording.
/// @return CW_OK or CW_ERR_NO_MEM; empty on error.
CW_NODISCARD CwStatus cw_layers_init(const CwNetwork *network, size_t n, CwLayers *layers);

/// Where the next CW_LAYERS_BLOCK rows of network->channels go; rows after the recording are to be 0.
float *cw_layers_next(CwLayers *layers);

/// Take what was written to cw_layers_next().
/// @param[out] out CW_LAYERS_BLOCK rows of network->n_outputs.
/// @param[out] first Row of the recording that the first one in `out` is; may lie before the recording.
void cw_layers_push(CwLayers *layers, float *out, ptrdiff_t *first);

/// Release and set to empty.
void cw_layers_free(CwLayers *layers);

#endif
