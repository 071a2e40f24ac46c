package idlewright.people.screens;

import idlewright.people.ApiKeys;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.people.Sessions;
import idlewright.people.SetUpPage;
import idlewright.people.SignIns;
import java.util.List;
import java.util.Set;
import java.util.function.BiConsumer;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.security.authentication.AuthenticationManager;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.ProviderManager;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.AbstractHttpConfigurer;
import org.springframework.security.config.annotation.web.configurers.HeadersConfigurer;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.authentication.UsernamePasswordAuthenticationFilter;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.security.web.authentication.session.ChangeSessionIdAuthenticationStrategy;
import org.springframework.security.web.authentication.session.CompositeSessionAuthenticationStrategy;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.context.SecurityContextRepository;
import org.springframework.security.web.csrf.CsrfAuthenticationStrategy;
import org.springframework.security.web.csrf.HttpSessionCsrfTokenRepository;
import org.springframework.security.web.header.writers.CrossOriginOpenerPolicyHeaderWriter.CrossOriginOpenerPolicy;
import org.springframework.security.web.header.writers.CrossOriginResourcePolicyHeaderWriter.CrossOriginResourcePolicy;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;

/**
 * The two doors of the house: {@code /api} for programs with a key, everything else for browsers with a session. Which
 * handler is for whom is decided by the {@link Doorkeeper}, who sees the handler's own sign.
 */
@Configuration(proxyBeanMethods = false)
class Doors {

    static final String POLICY = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none';"
            + " form-action 'self'; frame-ancestors 'none'";

    @Bean
    SecurityContextRepository securityContexts() {
        return new HttpSessionSecurityContextRepository();
    }

    @Bean
    AuthenticationManager authenticationManager(SignIns signIns) {
        return new ProviderManager(List.of(new ByPassword(signIns), new ByPin(signIns)));
    }

    @Bean
    @Order(1)
    SecurityFilterChain programs(HttpSecurity http, ApiKeys keys) {
        return http.securityMatcher("/api/**")
                .sessionManagement(sessions -> sessions.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
                .csrf(AbstractHttpConfigurer::disable)
                .requestCache(AbstractHttpConfigurer::disable)
                .logout(AbstractHttpConfigurer::disable)
                .headers(Doors::headers)
                .addFilterAfter(new KeyFilter(keys), SecurityContextHolderFilter.class)
                .authorizeHttpRequests(all -> all.anyRequest().permitAll())
                .build();
    }

    @Bean
    @Order(2)
    SecurityFilterChain browsers(
            HttpSecurity http,
            AuthenticationManager authenticationManager,
            SecurityContextRepository contexts,
            Sessions sessions,
            People people,
            BayCookie bay,
            Welcome welcome,
            HeldPosts held) {
        var csrfTokens = new HttpSessionCsrfTokenRepository();
        var pin = new PinFilter(bay);
        pin.setAuthenticationManager(authenticationManager);
        pin.setSecurityContextRepository(contexts);
        pin.setSessionAuthenticationStrategy(new CompositeSessionAuthenticationStrategy(
                List.of(new ChangeSessionIdAuthenticationStrategy(), new CsrfAuthenticationStrategy(csrfTokens))));
        pin.setAuthenticationSuccessHandler(welcome::in);
        pin.setAuthenticationFailureHandler(welcome::refused);
        return http.authenticationManager(authenticationManager)
                .securityContext(security -> security.securityContextRepository(contexts))
                .csrf(csrf -> csrf.csrfTokenRepository(csrfTokens))
                .requestCache(AbstractHttpConfigurer::disable)
                .headers(Doors::headers)
                .formLogin(form -> form.loginPage("/sign-in")
                        .loginProcessingUrl("/sign-in")
                        .usernameParameter("name")
                        .passwordParameter("password")
                        .successHandler(welcome::in)
                        .failureHandler(welcome::refused))
                .logout(out -> out.logoutUrl("/sign-out").logoutSuccessHandler(welcome::out))
                .exceptionHandling(denied -> denied.accessDeniedHandler(held))
                .addFilterAfter(new BadgeFilter(sessions, people), SecurityContextHolderFilter.class)
                .addFilterAfter(pin, UsernamePasswordAuthenticationFilter.class)
                .authorizeHttpRequests(all -> all.requestMatchers("/actuator/health", "/actuator/health/**")
                        .permitAll()
                        .requestMatchers("/actuator/**")
                        .denyAll()
                        .anyRequest()
                        .permitAll())
                .build();
    }

    static final String NOT_THESE = "camera=(), microphone=(), geolocation=(), payment=(), usb=(), midi=()";

    /** The same headers where no filter stands any more. */
    static void barely(BiConsumer<String, String> header) {
        header.accept("Content-Security-Policy", POLICY);
        header.accept("Referrer-Policy", ReferrerPolicy.SAME_ORIGIN.getPolicy());
        header.accept("Cross-Origin-Opener-Policy", CrossOriginOpenerPolicy.SAME_ORIGIN.getPolicy());
        header.accept("Cross-Origin-Resource-Policy", CrossOriginResourcePolicy.SAME_ORIGIN.getPolicy());
        header.accept("Permissions-Policy", NOT_THESE);
        header.accept("X-Content-Type-Options", "nosniff");
        header.accept("X-Frame-Options", "DENY");
        header.accept("Cache-Control", "no-store");
    }

    private static void headers(HeadersConfigurer<HttpSecurity> headers) {
        headers.contentSecurityPolicy(policy -> policy.policyDirectives(POLICY))
                .referrerPolicy(referrer -> referrer.policy(ReferrerPolicy.SAME_ORIGIN))
                .crossOriginOpenerPolicy(opener -> opener.policy(CrossOriginOpenerPolicy.SAME_ORIGIN))
                .crossOriginResourcePolicy(resource -> resource.policy(CrossOriginResourcePolicy.SAME_ORIGIN))
                .permissionsPolicyHeader(permissions -> permissions.policy(NOT_THESE));
    }

    /** Checks a sign-in name and password typed on {@code /sign-in}. */
    private record ByPassword(SignIns signIns) implements AuthenticationProvider {

        @Override
        public Authentication authenticate(Authentication typed) {
            String address = typed.getDetails() instanceof WebAuthenticationDetails from
                    ? String.valueOf(from.getRemoteAddress())
                    : "";
            Badge badge = signIns.byPassword(typed.getName(), String.valueOf(typed.getCredentials()), address);
            return badge.authentication();
        }

        @Override
        public boolean supports(Class<?> kind) {
            return UsernamePasswordAuthenticationToken.class.isAssignableFrom(kind);
        }
    }

    /** Checks a PIN typed at a bay terminal. */
    private record ByPin(SignIns signIns) implements AuthenticationProvider {

        @Override
        public @Nullable Authentication authenticate(Authentication typed) {
            return typed instanceof PinFilter.Pin pin
                    ? signIns.byPin(pin.terminal(), pin.person(), pin.digits()).authentication()
                    : null;
        }

        @Override
        public boolean supports(Class<?> kind) {
            return PinFilter.Pin.class.isAssignableFrom(kind);
        }
    }

    @Bean
    @Order(Ordered.HIGHEST_PRECEDENCE)
    SetUpPage shopPage() {
        return new SetUpPage(
                "The shop", "/set-up/shop", "Name, address, money, time zone, units and paper.", Set.of(Role.OWNER));
    }

    @Bean
    @Order(Ordered.HIGHEST_PRECEDENCE + 1)
    SetUpPage peoplePage() {
        return new SetUpPage(
                "People",
                "/set-up/people",
                "Who works here, what each may do, passwords and PINs.",
                Set.of(Role.OWNER));
    }

    @Bean
    @Order(Ordered.HIGHEST_PRECEDENCE + 2)
    SetUpPage terminalsPage() {
        return new SetUpPage(
                "Bay terminals",
                "/set-up/terminals",
                "The browsers in the bay at which technicians change by PIN.",
                Set.of(Role.OWNER, Role.WRITER));
    }

    @Bean
    @Order(Ordered.HIGHEST_PRECEDENCE + 3)
    SetUpPage apiKeysPage() {
        return new SetUpPage(
                "API keys", "/set-up/api-keys", "Other programs that may ask this one.", Set.of(Role.OWNER));
    }
}
