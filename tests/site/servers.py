"""Web servers with the settings that the page *Publish* prints, each on a free port."""

import getpass
import re
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guide import setup_servers
from guide.setup import ROOT

PUBLISH = ROOT / "site_src" / "docs" / "owner" / "publish.md"
PATIENCE_S = 60.0
NGINX = """daemon off;
user {user};
pid {run}/pid;
error_log {run}/log;
events {{ }}
http {{
    access_log off;
    {settings}
}}
"""
APACHE = """ServerName 127.0.0.1
Listen 127.0.0.1:{port}
PidFile {run}/apache.pid
ErrorLog {run}/log
DocumentRoot {root}
TypesConfig /etc/mime.types
{modules}
<Directory {root}>
    AllowOverride All
    Require all granted
</Directory>
"""
APACHE_MODULES = (
    "mpm_event", "authz_core", "deflate", "dir", "filter", "headers", "mime", "rewrite", "setenvif",
)  # fmt: skip


def printed(name: str) -> str:
    """The settings that the page prints for a server."""
    found = re.search(rf"```{name}\n(.*?)```", PUBLISH.read_text("utf-8"), re.DOTALL)
    assert found, f"no settings for {name} are printed"
    return found[1]


def settings(name: str, root: Path, port: int, folder: str) -> str:
    """The same for a site in a folder of a root, at a port of this machine."""
    text = printed(name).replace("/srv/rig-guide", str(root))
    for old, new in {
        "listen 80;": f"listen 127.0.0.1:{port};",
        "server.port = 80": f'server.bind = "127.0.0.1"\nserver.port = {port}',
        "shop.example {": f"http://127.0.0.1:{port} {{",
        " /404.html": f" {folder}/404.html",
        f'errorfile-prefix = "{root}/"': f'errorfile-prefix = "{root}{folder}/"',
    }.items():
        text = text.replace(old, new)
    return text


def command(name: str, root: Path, run: Path, port: int, folder: str) -> list[str]:
    """Write a server's settings and return what starts it, in the foreground."""
    text, file = settings(name, root, port, folder), run / name
    program = str(setup_servers.find(name))
    if name == "nginx":
        file.write_text(NGINX.format(run=run, settings=text, user=getpass.getuser()))
        (run / "mime.types").symlink_to("/etc/nginx/mime.types")
        return [program, "-p", str(run), "-c", str(file)]
    if name == "apache":
        (root / folder.strip("/") / ".htaccess").write_text(text)
        modules = "\n".join(
            f"LoadModule {each}_module /usr/lib/apache2/modules/mod_{each}.so"
            for each in APACHE_MODULES
        )
        file.write_text(APACHE.format(port=port, run=run, root=root, modules=modules))
        return [program, "-X", "-f", str(file)]
    if name == "caddy":
        file.write_text("{\n\tadmin off\n\tauto_https off\n}\n" + text)
        return [program, "run", "--adapter", "caddyfile", "--config", str(file)]
    file.write_text(text)
    return [program, "-D", "-f", str(file)]


def free_port() -> int:
    """A port that nobody uses now."""
    with socket.create_server(("127.0.0.1", 0)) as line:
        port: int = line.getsockname()[1]
        return port


@contextmanager
def started(name: str, site: Path, run: Path, folder: str = "") -> Iterator[str]:
    """The address of a server of a site, by the printed settings.

    folder: where the site lies below the root, as "/rig-guide"
    """
    root = run / "root"
    place = root / folder.strip("/")
    place.parent.mkdir(parents=True, exist_ok=True)
    shutil.copytree(site, place, copy_function=linked)
    port = free_port()
    start = command(name, root, run, port, folder)
    with (run / "said").open("w") as said:
        server = subprocess.Popen(start, stdout=said, stderr=said)
    try:
        until = time.monotonic() + PATIENCE_S
        while not answers(port):
            told = (run / "said").read_text()[-2000:]
            assert server.poll() is None and time.monotonic() < until, told
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}{folder}/"
    finally:
        server.terminate()
        server.wait()


def linked(one: str, other: str) -> str:
    """Put a file at another place, too, without its bytes."""
    Path(other).hardlink_to(one)
    return other


def answers(port: int) -> bool:
    """Whether somebody listens."""
    with socket.socket() as line:
        return line.connect_ex(("127.0.0.1", port)) == 0
