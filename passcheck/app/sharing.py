"""How does what was sealed here get to the other benches without anybody waiting for it?"""

import asyncio

from passcheck.app.desk import Desk
from passcheck.app.plain import tell


async def share_what_is_sealed(desk: Desk) -> None:
    """Publish it in a thread; what is wrong is said in passing, and once until it is something else."""
    await desk.bench_known.wait()
    if desk.shop.publisher is None:
        return
    said = await asyncio.to_thread(desk.shop.publisher.publish)
    if said and said != desk.said_of_sharing:
        tell(desk, said, "warning")
    desk.said_of_sharing = said
