package idlewright.frame;

import java.time.Duration;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.CacheControl;
import org.springframework.web.servlet.config.annotation.ResourceHandlerRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.resource.VersionResourceResolver;

/**
 * Static files carry their hash in the name, so browsers may keep them for a year. Each has its folder, because a handler
 * for everything is asked for every link of every page and then looks through the jar for a file of that name.
 */
@Configuration(proxyBeanMethods = false)
class StaticFiles implements WebMvcConfigurer {

    @Override
    public void addResourceHandlers(ResourceHandlerRegistry registry) {
        for (String folder : new String[] {"css", "js", "fonts", "icons"}) {
            handle(registry, "/" + folder + "/**", "classpath:/static/" + folder + "/");
        }
        handle(registry, "/webjars/**", "classpath:/META-INF/resources/webjars/");
    }

    private static void handle(ResourceHandlerRegistry registry, String pattern, String location) {
        registry.addResourceHandler(pattern)
                .addResourceLocations(location)
                .setCacheControl(CacheControl.maxAge(Duration.ofDays(365)).cachePublic())
                .resourceChain(true)
                .addResolver(new VersionResourceResolver().addContentVersionStrategy("/**"));
    }
}
