"""packet.pdf: what the planner keeps and what the floor works from, set by typst.

Everything that a person typed goes to the template as JSON strings, which it shows as text and
never reads as markup.  The type is shipped and the date is the plan's, so the same plan always
gives the same bytes.
"""

from planner_io.packet.write import TagKind, write_packet

__all__ = ["TagKind", "write_packet"]
