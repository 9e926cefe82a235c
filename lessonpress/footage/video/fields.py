"""Deinterlacing: two fields become one picture of the first field's time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from av.error import EOFError as EndOfFile
from av.filter import Graph
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

NEIGHBOURS = 2  # pictures on either side that the filter may look at


def woven(stream: VideoStream, frames: Iterable[tuple[int, VideoFrame]]) -> Iterator[tuple[int, VideoFrame]]:
    """The same numbered frames, one out for one in, with the lines of one field drawn anew by `bwdif`."""
    graph = Graph()
    source = graph.add_buffer(template=stream)
    weaver = graph.add("bwdif", "mode=send_frame:parity=auto:deint=all")
    sink = graph.add("buffersink")
    graph.link_nodes(source, weaver, sink).configure()
    waiting: list[int] = []
    for number, frame in frames:
        waiting.append(number)
        graph.vpush(frame)
        yield from _ready(graph, waiting)
    graph.vpush(None)
    yield from _ready(graph, waiting)


def _ready(graph: Graph, waiting: list[int]) -> Iterator[tuple[int, VideoFrame]]:
    while waiting:
        try:
            frame = graph.vpull()
        except (BlockingIOError, EndOfFile):
            return
        yield waiting.pop(0), frame
