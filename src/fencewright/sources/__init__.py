"""The register of publications and its loader."""

from fencewright.sources.register import Source, all_sources, cite

__all__ = ["Source", "all_sources", "cite"]
