package idlewright.people.screens;

import idlewright.frame.Crowd;
import idlewright.frame.TooMany;
import idlewright.people.ByKey;
import idlewright.people.FirstStart;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Public;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.lang.annotation.Annotation;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.csrf.CsrfToken;
import org.springframework.stereotype.Component;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.resource.ResourceHttpRequestHandler;

/**
 * Lets nobody pass to a handler whose sign does not name them. No sign means nobody, and what you may not see does not
 * exist. It stands before the handler rather than before the address, so no pattern can miss a page.
 */
@Component
class Doorkeeper implements HandlerInterceptor, WebMvcConfigurer {

    private static final Set<String> STATIC = Set.of("/css/", "/js/", "/fonts/", "/icons/", "/webjars/", "/favicon");

    private final People people;
    private final FirstStart firstStart;
    private final Ways ways;
    private final HeldPosts held;
    private final Crowd crowd;

    Doorkeeper(People people, FirstStart firstStart, Ways ways, HeldPosts held, Crowd crowd) {
        this.crowd = crowd;
        this.people = people;
        this.firstStart = firstStart;
        this.ways = ways;
        this.held = held;
    }

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(this).order(Integer.MIN_VALUE);
    }

    @Override
    public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
            throws IOException, ServletException {
        if (handler instanceof ResourceHttpRequestHandler) {
            return isStatic(request) || notHere(request, response);
        }
        if (!(handler instanceof HandlerMethod method)) {
            return notHere(request, response);
        }
        if (ErrorController.class.isAssignableFrom(method.getBeanType())) {
            return true;
        }
        Optional<Annotation> sign = signOn(method);
        if (sign.isEmpty()) {
            return notHere(request, response);
        }
        if (isApi(request)) {
            return program(sign.get(), request, response);
        }
        return browser(sign.get(), request, response);
    }

    /** The sign that counts: the one on the method, else the one on its class. */
    static Optional<Annotation> signOn(HandlerMethod method) {
        return Stream.of(method.getMethod(), method.getBeanType())
                .map(place -> Stream.of(For.class, Public.class, ByKey.class)
                        .map(kind -> (Annotation) AnnotatedElementUtils.findMergedAnnotation(place, kind))
                        .filter(sign -> sign != null)
                        .findFirst())
                .flatMap(Optional::stream)
                .findFirst();
    }

    private boolean program(Annotation sign, HttpServletRequest request, HttpServletResponse response)
            throws IOException {
        if (sign instanceof Public) {
            return true;
        }
        if (!(sign instanceof ByKey)) {
            return notHere(request, response);
        }
        if (hasKey()) {
            return true;
        }
        boolean wrong = request.getHeader("Authorization") != null;
        if (wrong) {
            try {
                crowd.letIn("key " + request.getRemoteAddr());
            } catch (TooMany often) {
                response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(often.seconds()));
                ApiProblems.write(response, HttpStatus.TOO_MANY_REQUESTS, often.sentence());
                return false;
            }
        }
        response.setHeader(
                "WWW-Authenticate", "Bearer realm=\"idlewright\"" + (wrong ? ", error=\"invalid_token\"" : ""));
        ApiProblems.write(
                response,
                HttpStatus.UNAUTHORIZED,
                wrong
                        ? "This key is not known or was retired."
                        : "Send a key: Authorization: Bearer followed by the key.");
        return false;
    }

    private boolean browser(Annotation sign, HttpServletRequest request, HttpServletResponse response)
            throws IOException, ServletException {
        if (sign instanceof ByKey) {
            return notHere(request, response);
        }
        boolean atFirstStart = request.getRequestURI().equals(request.getContextPath() + "/first-start");
        if (!atFirstStart && firstStart.pending()) {
            return send(request, response, "/first-start");
        }
        if (sign instanceof For wanted) {
            Optional<Person> me = people.signedIn();
            if (me.isEmpty()) {
                return signInFirst(request, response);
            }
            if (Stream.of(wanted.value()).noneMatch(me.get()::is)) {
                return notHere(request, response);
            }
        }
        if (request.getMethod().equals("POST")) {
            held.onItsWay(request);
        } else {
            makeTokenBeforeThePageIsSent(request);
        }
        return true;
    }

    private boolean signInFirst(HttpServletRequest request, HttpServletResponse response)
            throws IOException, ServletException {
        boolean reads = request.getMethod().equals("GET") || request.getMethod().equals("HEAD");
        if (!reads) {
            held.cameTooLate(request, response);
            return false;
        }
        if (HeldPosts.sentByScript(request)) {
            response.setStatus(HttpStatus.UNAUTHORIZED.value());
            return false;
        }
        String path = request.getRequestURI().substring(request.getContextPath().length());
        String query = request.getQueryString();
        boolean fragment = request.getHeader("HX-Request") != null;
        return send(
                request,
                response,
                fragment ? ways.door(request, null) : ways.door(request, query == null ? path : path + "?" + query));
    }

    private static boolean send(HttpServletRequest request, HttpServletResponse response, String to)
            throws IOException {
        if (request.getHeader("HX-Request") != null) {
            response.setStatus(HttpStatus.NO_CONTENT.value());
            response.setHeader("HX-Redirect", request.getContextPath() + to);
        } else {
            response.sendRedirect(request.getContextPath() + to);
        }
        return false;
    }

    private static boolean notHere(HttpServletRequest request, HttpServletResponse response) throws IOException {
        if (isApi(request)) {
            ApiProblems.write(response, HttpStatus.NOT_FOUND, "There is nothing here.");
        } else {
            response.sendError(HttpStatus.NOT_FOUND.value());
        }
        return false;
    }

    /** The token lives in the session, and a session cannot begin any more when half the page is on its way. */
    private static void makeTokenBeforeThePageIsSent(HttpServletRequest request) {
        if (request.getAttribute(CsrfToken.class.getName()) instanceof CsrfToken token) {
            token.getToken();
        }
    }

    private static boolean hasKey() {
        var authentication = SecurityContextHolder.getContext().getAuthentication();
        return authentication != null
                && authentication.getAuthorities().stream()
                        .map(GrantedAuthority::getAuthority)
                        .anyMatch(KeyFilter.KEY::equals);
    }

    static boolean isStatic(HttpServletRequest request) {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        return STATIC.stream().anyMatch(path::startsWith) && !path.contains("/../");
    }

    private static boolean isApi(HttpServletRequest request) {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        return path.equals("/api") || path.startsWith("/api/");
    }
}
