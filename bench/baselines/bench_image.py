#!/usr/bin/env python3
"""Particles of a 4000 x 3000 micrograph: background (gaussian, sigma 40), Otsu, distance transform, watershed, region properties. usage: /usr/bin/python3 bench_image.py FOLDER"""
import statistics
import sys
import time

import numpy as np
from scipy import ndimage as ndi
from skimage import feature, filters, io, measure, morphology, segmentation

picture = io.imread(sys.argv[1] + '/micrograph.png').astype(np.float32)


def run():
    flat = ndi.gaussian_filter(picture, 40) - picture
    smooth = ndi.gaussian_filter(flat, 1)
    mask = morphology.remove_small_objects(smooth > filters.threshold_otsu(smooth), 8)
    distance = ndi.distance_transform_edt(mask)
    regions, _ = ndi.label(mask)
    peaks = feature.peak_local_max(ndi.gaussian_filter(distance, 1), min_distance=3, labels=regions, exclude_border=False)
    markers = np.zeros(mask.shape, np.int32)
    markers[tuple(peaks.T)] = np.arange(1, len(peaks) + 1)
    labels = segmentation.watershed(-distance, markers, mask=mask)
    table = measure.regionprops_table(labels, picture, properties=('label', 'area', 'centroid', 'equivalent_diameter_area', 'major_axis_length', 'minor_axis_length', 'eccentricity', 'mean_intensity'))
    return mask, table


times = []
for repeat in range(3):
    start = time.perf_counter()
    mask, table = run()
    times.append(time.perf_counter() - start)
print('{"name":"scikit-image pipeline","seconds":%.4f,"particles":%d,"mean_diameter_px":%.4f,"area_fraction":%.6f}' % (statistics.median(times[1:]), len(table['area']), table['equivalent_diameter_area'].mean(), mask.mean()))
