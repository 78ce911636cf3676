"""Addresses that open a mail program or a telephone, with everything filled in."""

from urllib.parse import quote


def mail_to(address: str, subject: str, sentence: str, link: str) -> str:
    """An address that opens the mail program with everything filled in (RFC 6068).

    >>> mail_to("a@b.example", "Hi", "See", "https://b.example/#x=1&y=2")
    'mailto:a@b.example?subject=Hi&body=See%0D%0A%0D%0Ahttps://b.example/%23x=1%26y=2'
    """
    body = quote(f"{sentence}\r\n\r\n{link}", safe=":/=@,")
    return f"mailto:{quote(address, safe='@')}?subject={quote(subject, safe='')}&body={body}"


def telephone(number: str) -> str:
    """An address that dials (RFC 3966).

    >>> telephone("555-0142")
    'tel:5550142'
    """
    return "tel:" + "".join(sign for sign in number if sign in "+0123456789")
