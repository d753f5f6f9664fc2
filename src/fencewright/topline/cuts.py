"""From the top line to the saw and the order: stock lengths, cuts and rail marks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fencewright.tables.top_line import FloatArray, PostCuts

#: A stock length that is short by less than this is long enough. [m]
ROUNDING_M = 1e-9


@dataclass(frozen=True)
class CutPractice:
    """What is kept above the cut, and when a post is not cut at all.

    Attributes
    ----------
    trim_m : float
        Least length above the top before the cut, 0 or more. [m]
    spare_m : float
        What a post that is set long is longer still, 0 or more. [m]
    sd_limit_m : float
        A top whose standard deviation is above this is not cut by figures. [m]
    """

    trim_m: float
    spare_m: float
    sd_limit_m: float


def post_cuts(
    height_m: FloatArray,
    embedment_m: FloatArray,
    top_sd_m: FloatArray,
    stock_m: FloatArray,
    practice: CutPractice,
) -> PostCuts:
    """Choose the stock length of each post, and what is sawn off.

    Parameters
    ----------
    height_m : float array (posts,)
        Top above the ground. [m]
    embedment_m : float array (posts,)
        Post below the ground. [m]
    top_sd_m : float array (posts,)
        Standard deviation of the top; NaN counts as unknown: set long. [m]
    stock_m : float array (lengths,)
        Lengths that are sold, in any order, none to many. [m]
    practice : CutPractice
        Trim, spare and the limit of a printed cut.

    Returns
    -------
    PostCuts
        Posts of which no stock is long enough have NaN: the caller says so.

    Notes
    -----
    The smallest stock of at least embedment + height + trim, and spare where the post is set long.
    """
    is_cut = top_sd_m <= practice.sd_limit_m
    out_of_saw = embedment_m + height_m
    need = out_of_saw + practice.trim_m + np.where(is_cut, 0.0, practice.spare_m)
    lengths = np.append(np.sort(stock_m), np.nan)
    stock = lengths[np.searchsorted(lengths[:-1], need - ROUNDING_M)]
    return PostCuts(stock, np.where(is_cut, stock - out_of_saw, np.nan), is_cut)


def rail_marks(height_m: FloatArray, strand_drop_m: FloatArray) -> FloatArray:
    """Heights at which each strand is marked on each post.

    Parameters
    ----------
    height_m : float array (posts,)
        Top above the ground. [m]
    strand_drop_m : float array (strands,)
        Post top down to each strand, in any order. [m]

    Returns
    -------
    float array (posts, strands)
        Above the ground, lowest strand first. [m]
    """
    return height_m[:, None] - np.sort(strand_drop_m)[::-1][None, :]
