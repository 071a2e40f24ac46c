package idlewright.people;

import jakarta.servlet.http.Cookie;
import java.net.URI;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.mock.web.MockHttpSession;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** A browser for tests: keeps session and cookies, reads the real token off the last page, follows nothing by itself. */
public class Browser {

    /** What came back. */
    public record Page(int status, String body, String location, MockHttpServletResponse response) {

        /** The path and query this page leads on to. */
        public String path() {
            URI uri = URI.create(location);
            return uri.getRawQuery() == null ? uri.getRawPath() : uri.getRawPath() + "?" + uri.getRawQuery();
        }
    }

    private static final Pattern TOKEN = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"");

    private final MockMvcTester mvc;
    private final Map<String, Cookie> cookies = new LinkedHashMap<>();
    private MockHttpSession session = new MockHttpSession();
    private String token = "";
    private String address = "127.0.0.1";

    public Browser(MockMvcTester mvc) {
        this.mvc = mvc;
    }

    /** Another desk: requests come from this address from now on. */
    public Browser from(String otherAddress) {
        address = otherAddress;
        return this;
    }

    /** Signs in as a person does; the page after is returned. */
    public Page signIn(String name, String password) {
        get("/sign-in");
        return post("/sign-in", "name", name, "password", password);
    }

    public Page get(String path, String... headers) {
        return send(HttpMethod.GET, path, headers, new String[0]);
    }

    /** Sends a form of the last page: with its token, a fresh submission key and what a browser says of its origin. */
    public Page post(String path, String... fields) {
        var all = new java.util.ArrayList<>(java.util.List.of(fields));
        if (!all.contains("submission")) {
            all.addAll(java.util.List.of("submission", UUID.randomUUID().toString()));
        }
        all.addAll(java.util.List.of("_csrf", token));
        return send(HttpMethod.POST, path, new String[] {"Sec-Fetch-Site", "same-origin"}, all.toArray(String[]::new));
    }

    /** Sends exactly this. */
    public Page send(HttpMethod method, String path, String[] headers, String[] fields) {
        var request = mvc.method(method).uri(URI.create(path)).session(session).with(raw -> {
            raw.setRemoteAddr(address);
            raw.setRequestedSessionId(session.getId());
            raw.setRequestedSessionIdValid(true);
            return raw;
        });
        if (!cookies.isEmpty()) {
            request = request.cookie(cookies.values().toArray(Cookie[]::new));
        }
        for (int i = 0; i < headers.length; i += 2) {
            request = request.header(headers[i], headers[i + 1]);
        }
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        var result = request.exchange();
        MockHttpServletResponse response = result.getResponse();
        for (Cookie cookie : response.getCookies()) {
            cookies.put(cookie.getName(), cookie);
        }
        session = (MockHttpSession) result.getRequest().getSession(true);
        String body = text(response);
        Matcher found = TOKEN.matcher(body);
        if (found.find()) {
            token = found.group(1);
        }
        return new Page(response.getStatus(), body, String.valueOf(response.getHeader("Location")), response);
    }

    /** The server forgets this browser's session, as after hours without a click. */
    public void sessionExpires() {
        session = new MockHttpSession();
    }

    public void staleToken() {
        token = "stale";
    }

    public String sessionId() {
        return session.getId();
    }

    public Map<String, Cookie> cookies() {
        return cookies;
    }

    private static String text(MockHttpServletResponse response) {
        try {
            return response.getContentAsString(java.nio.charset.StandardCharsets.UTF_8);
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
