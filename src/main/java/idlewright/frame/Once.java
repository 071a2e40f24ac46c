package idlewright.frame;

import jakarta.servlet.http.HttpServletRequest;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.HexFormat;
import java.util.Locale;
import java.util.TreeMap;
import java.util.UUID;
import org.aopalliance.intercept.MethodInterceptor;
import org.aopalliance.intercept.MethodInvocation;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/**
 * Makes every form post happen once: the submission key is written in the transaction of the work itself, so a double
 * click waits for the first and then gets its answer, and work that was rolled back leaves no key behind.
 */
@Component
class Once implements MethodInterceptor {

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;

    Once(JdbcClient jdbc, PlatformTransactionManager transactions, Clock clock) {
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    @Override
    public @Nullable Object invoke(MethodInvocation post) throws Throwable {
        HttpServletRequest request = request();
        if (request == null) {
            return post.proceed();
        }
        UUID key = key(request.getParameter("submission"));
        String fingerprint = fingerprint(request);
        try {
            return transaction.execute(status -> {
                boolean first = jdbc.sql("""
                        insert into submission (key, path, fingerprint, at) values (?, ?, ?, ?)
                        on conflict (key) do nothing""")
                                .params(key, request.getRequestURI(), fingerprint, Timestamp.from(clock.instant()))
                                .update()
                        == 1;
                if (!first) {
                    return replay(key, fingerprint);
                }
                Object answer;
                try {
                    answer = post.proceed();
                } catch (RuntimeException | Error e) {
                    throw e;
                } catch (Throwable e) {
                    throw new Checked(e);
                }
                if (answer instanceof String view && view.startsWith("redirect:")) {
                    jdbc.sql("update submission set answer = ? where key = ?")
                            .params(view, key)
                            .update();
                } else {
                    status.setRollbackOnly();
                }
                return answer;
            });
        } catch (Checked e) {
            throw e.getCause();
        }
    }

    private String replay(UUID key, String fingerprint) {
        var done = jdbc.sql("select fingerprint, answer from submission where key = ?")
                .param(key)
                .query((row, n) -> new String[] {row.getString(1), row.getString(2)})
                .single();
        if (!done[0].equals(fingerprint)) {
            throw new OtherPayload();
        }
        return done[1];
    }

    private static UUID key(@Nullable String typed) {
        try {
            if (typed != null) {
                return UUID.fromString(typed);
            }
        } catch (IllegalArgumentException notAUuid) {
            // falls through to the refusal below
        }
        throw new NoKey();
    }

    private static String fingerprint(HttpServletRequest request) {
        var text = new StringBuilder(request.getRequestURI());
        new TreeMap<>(request.getParameterMap()).forEach((name, values) -> {
            if (!name.equals("_csrf") && !secret(name)) {
                text.append('\n').append(name).append('=').append(String.join("\u0000", values));
            }
        });
        try {
            return HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256")
                            .digest(text.toString().getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    /** A short secret could be found again from its hash, so none goes into one. */
    private static boolean secret(String name) {
        String plain = name.toLowerCase(Locale.ROOT);
        return plain.contains("password") || plain.equals("pin") || plain.equals("pinnow");
    }

    private static @Nullable HttpServletRequest request() {
        return RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes web
                ? web.getRequest()
                : null;
    }

    /** The same key with other words in the form: one of the two would be lost, so neither is guessed at. */
    static class OtherPayload extends RuntimeException {
        OtherPayload() {
            super("This form was sent before with other words in it.", null, false, false);
        }
    }

    static class NoKey extends RuntimeException {
        NoKey() {
            super(
                    "This form carries no submission key. Open the page again and send it from there.",
                    null,
                    false,
                    false);
        }
    }

    private static class Checked extends RuntimeException {
        Checked(Throwable cause) {
            super(cause);
        }
    }
}
