"""Sessions that need no right wall clock: a signed cookie without a time stamp.

A board without a battery clock may start days behind. A cookie signed with a time would then come from
the future and count for nothing, and one with an expiry date would be thrown away by the phone. So the
phone is told a span (Max-Age), and the station judges the age of a pairing by its own evidence of time.

A browser keeps one jar of cookies for all ports of a host, so the name holds the port: two stations on one machine
must not throw each other's sessions away.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Flask, Request, Response
from flask import request as current
from flask.sessions import SecureCookieSession, SessionInterface
from itsdangerous import BadSignature, URLSafeSerializer

LIVES_S = 30 * 86400


def cookie_name(host: str, secure: bool) -> str:
    """The cookie's name for a Host header. Over TLS its prefix has browsers refuse one that came without TLS."""
    try:
        port = urlsplit(f"//{host}").port
    except ValueError:
        port = None
    return f"{'__Host-' if secure else ''}tarebell-{port or (443 if secure else 80)}"


class ClocklessSessions(SessionInterface):
    """Opens and saves the cookie. One that was not signed here opens as an empty session."""

    def open_session(self, app: Flask, request: Request) -> SecureCookieSession:
        """The session of `request`."""
        try:
            said = self._signer(app).loads(request.cookies.get(cookie_name(request.host, request.is_secure), ""))
        except BadSignature:
            said = None
        return SecureCookieSession(said if isinstance(said, dict) else None)

    def save_session(self, app: Flask, session: object, response: Response) -> None:
        """Send the cookie when something in it has changed."""
        assert isinstance(session, SecureCookieSession)
        if session.modified:
            value = self._signer(app).dumps(dict(session))
            text = value if isinstance(value, str) else value.decode()
            # Lax, not Strict: a link in a message opens the page, and without its cookie there the page would begin
            # a new session and throw the pairing away. Acting needs token and origin in any case.
            response.set_cookie(
                cookie_name(current.host, current.is_secure),
                text,
                max_age=LIVES_S,
                httponly=True,
                samesite="Lax",
                secure=current.is_secure,
                path="/",
            )

    def _signer(self, app: Flask) -> URLSafeSerializer:
        assert app.secret_key is not None
        return URLSafeSerializer(app.secret_key, salt="tarebell session")
