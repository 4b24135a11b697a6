//! The turning view: hands a mesh to the browser's WebGL2 and draws it when asked.
//!
//! What the graphics hold can be lost at any time, and a stumble of the library takes
//! a view along: the page then makes a new one and gives it the old one's pose.

use super::memory::from_js;
use crate::show::camera::{Camera, View};
use crate::show::mesh::{self, Bounds, Look, Mesh, inlaid};
use crate::show::thing::Thing;
use js_sys::{Float32Array, Object, Uint8Array, Uint32Array};
use wasm_bindgen::JsCast as _;
use wasm_bindgen::prelude::*;
use web_sys::{
    HtmlCanvasElement, WebGl2RenderingContext as Gl, WebGlBuffer, WebGlProgram,
    WebGlUniformLocation,
};

/// Where corners come in.
const POSITION: u32 = 0;
const NORMAL: u32 = 1;
const WOOD: u32 = 2;

// Lines lie on the surfaces that they belong to, and where the flats of two rings cross
// a little below: they are brought nearer. (Setting the surfaces back instead is not
// dependable: some graphics set lines back with them.)
const VERTEX_SHADER: &str = "#version 300 es
layout(location=0) in vec3 position;
layout(location=1) in vec3 normal;
layout(location=2) in vec3 wood;
uniform mat4 view;
uniform float ink;
out vec3 facing;
out vec3 tone;
out vec3 place;
void main(){facing=normal;tone=wood;place=position;gl_Position=view*vec4(position,1);gl_Position.z-=ink*.004*gl_Position.w;}";

// Two lights that go with the eye, one above its left shoulder, and light from all
// sides, from below a little less. Light is added up as light, not as screen values,
// and a surface that faces the eye keeps its wood's color.
//
// Before, every point is asked whether it lies in the base or a strip (`inlaid::strips`, and the two
// lines at the head of `spline`): so a strip's edge is sharp at any size, and its
// section shows in a cut wall. A joint's line ends at a strip. Where a strip's edge
// runs within a pixel, its share of that pixel is mixed.
const FRAGMENT_SHADER: &str = "#version 300 es
precision highp float;
in vec3 facing;
in vec3 tone;
in vec3 place;
uniform mat3 axes;
uniform highp float ink;
uniform vec4 strips[186];
uniform int strip_count;
uniform vec4 base[26];
uniform int base_count;
uniform vec2 held;
out vec4 color;
void main(){
vec3 wood=tone;
float pixel=max(.7*length(fwidth(place)),1e-6);
float inset=ink>0.?.05:-.002;
float from=base[0].y;
for(int i=1;i<base_count;i++){
vec4 a=base[i];
float within=base[0].x-length(place.xy);
if(place.z>from+inset&&place.z<a.w-inset){
if(ink>0.&&within>inset)discard;
wood=mix(wood,a.rgb,clamp(within/pixel+.5,0.,1.));}
from=a.w;
}
int first=0,layers=0;
for(int i=0;i<strip_count;){
vec4 a=strips[i],b=strips[i+1],e=strips[i+2];
int own=int(floor(e.w));
vec3 t=vec3(0.);
i+=3;
if(fract(e.w)>.2)t=strips[i++].xyz;
if(own>0)first=i,i+=own;
if(own>=0)layers=own;
float up=place.z-a.x,c=t.x+up*a.w,r=length(place.xy);
if(place.z<a.y+inset||place.z>a.z-inset||r<1e-4||abs(c)-b.x>r)continue;
float lean=asin(clamp(c/r,-1.,1.)),d=atan(place.x,-place.y)-b.z-lean;
d+=lean-b.w*round(d/b.w);
float aside=r*sin(d)-c;
float within=min(b.x-abs(aside),r*cos(d)-b.y-t.y*up-t.z*aside);
if(ink>0.&&within>0.)discard;
vec3 strip=e.rgb;
for(int j=1;j<layers;j++)strip=mix(strip,strips[first+j].rgb,clamp((aside-strips[first+j-1].w)/pixel+.5,0.,1.));
wood=mix(wood,strip,clamp(within/pixel+.5,0.,1.));
}
vec3 n=normalize(facing)*axes;
float light=.4+.06*facing.z+.56*max(dot(n,vec3(-.42,.5,.757)),0.)+.22*max(dot(n,vec3(.64,.1,.76)),0.);
float sheen=.05*pow(max(dot(n,vec3(-.224,.267,.937)),0.),40.);
vec3 seen=pow(pow(wood,vec3(2.2))*light+sheen,vec3(1./2.2));
float edge=.08*(held.y-held.x);
if((place.z>held.x&&place.z<held.x+edge)||(place.z>held.y-edge&&place.z<held.y))seen=mix(seen,vec3(.06,.5,.5),.85);
float mean=dot(wood,vec3(.333));
color=vec4(mix(seen,vec3(mean>.3?.1:.75),ink),1);
}";

/// How much of a line's color is ink, not wood.
const INK: f32 = 0.5;

/// A finger that goes no farther than this has tapped (our own choice).
const TAP_PX: f64 = 6.0;

/// A vessel on a canvas.
#[wasm_bindgen]
pub struct View3d {
    canvas: HtmlCanvasElement,
    gl: Gl,
    view_place: Option<WebGlUniformLocation>,
    axes_place: Option<WebGlUniformLocation>,
    ink_place: Option<WebGlUniformLocation>,
    /// Numbers and count of the strips.
    strips_places: [Option<WebGlUniformLocation>; 2],
    /// The same of the base.
    base_places: [Option<WebGlUniformLocation>; 2],
    held_place: Option<WebGlUniformLocation>,
    buffers: [WebGlBuffer; 4],
    triangle_corners: i32,
    line_corners: i32,
    bounds: Bounds,
    camera: Camera,
}

#[wasm_bindgen]
impl View3d {
    /// A view on this canvas; nothing where the browser has no WebGL2, or has lost it.
    pub fn on(canvas: HtmlCanvasElement) -> Option<View3d> {
        let gl = canvas.get_context("webgl2").ok()??.dyn_into::<Gl>().ok()?;
        let program = program(&gl)?;
        gl.use_program(Some(&program));
        let place = |name| gl.get_uniform_location(&program, name);
        let buffer = || gl.create_buffer();
        Some(View3d {
            view_place: place("view"),
            axes_place: place("axes"),
            ink_place: place("ink"),
            strips_places: ["strips", "strip_count"].map(place),
            base_places: ["base", "base_count"].map(place),
            held_place: place("held"),
            buffers: [buffer()?, buffer()?, buffer()?, buffer()?],
            canvas,
            gl,
            triangle_corners: 0,
            line_corners: 0,
            bounds: Bounds::default(),
            camera: Camera::default(),
        })
    }

    /// Takes a design's vessel; nothing is shown where there is none.
    pub fn set_design(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        finished: bool,
        cut_open: bool,
    ) -> Result<(), JsError> {
        let design = from_js(design)?;
        let look = Look { finished, cut_open };
        let stack = design.stack();
        let shape = stack.map_or_else(Mesh::default, |plan| mesh::mesh(plan, look));
        self.hold(&shape);
        let strips = stack.map_or_else(Vec::new, inlaid::strips);
        self.hand(&self.strips_places, &strips, 4);
        // The blank's base has corners of its own.
        let base = stack
            .filter(|_| finished)
            .map_or_else(Vec::new, inlaid::base);
        self.hand(&self.base_places, &base, 4);
        Ok(())
    }

    /// Lights up what is touched, by its name: the edges of a ring, so that its woods keep
    /// their colors.
    pub fn light_up(
        &self,
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        name: &str,
    ) -> Result<(), JsError> {
        let design = from_js(design)?;
        let rings = design.stack().map_or(&[][..], |plan| &plan.rings);
        let ring = Thing::named(name).ring().and_then(|place| rings.get(place));
        // Short of the neighbors' faces.
        let [from, to] = ring.map_or([0.0; 2], |ring| {
            [ring.span.bottom_mm + 0.01, ring.span.top_mm - 0.01]
        });
        let held = self.held_place.as_ref();
        self.gl.uniform2f(held, from as f32, to as f32);
        Ok(())
    }

    /// The name of what is touched at a place on the canvas, CSS pixels from its top left
    /// corner; empty where there is nothing.
    pub fn touched(
        &self,
        #[wasm_bindgen(unchecked_param_type = "Design")] design: JsValue,
        finished: bool,
        cut_open: bool,
        x_px: f64,
        y_px: f64,
    ) -> Result<String, JsError> {
        let design = from_js(design)?;
        let Some(plan) = design.stack() else {
            return Ok(String::new());
        };
        let shape = mesh::mesh(plan, Look { finished, cut_open });
        let (width, height) = (
            f64::from(self.canvas.client_width()),
            f64::from(self.canvas.client_height()),
        );
        let view = self.camera.view(&shape.bounds(), width / height);
        let way = view.ray(2.0 * x_px / width - 1.0, 1.0 - 2.0 * y_px / height);
        Ok(mesh::touched(plan, &shape, view.eye_mm, way).name())
    }

    /// Carries the eye round the piece, as far as a finger went, CSS pixels.
    pub fn orbit(&mut self, across_px: f64, down_px: f64) {
        let side = self.canvas.client_width().min(self.canvas.client_height());
        self.camera.orbit(across_px, down_px, f64::from(side));
    }

    /// Comes nearer (above 1) or goes away.
    pub fn zoom(&mut self, factor: f64) {
        self.camera.zoom_by(factor);
    }

    /// Whether a finger that went so far across and down has moved, and not tapped.
    pub fn is_drag(across_px: f64, down_px: f64) -> bool {
        across_px.hypot(down_px) > TAP_PX
    }

    /// Follows two fingers: x and y of one and of the other, before and now.
    pub fn pinch(&mut self, from: &[f64], to: &[f64]) {
        if let (Ok(from), Ok(to)) = (from.try_into(), to.try_into()) {
            self.camera.pinch(from, to);
        }
    }

    /// Back to the front.
    pub fn reset(&mut self) {
        self.camera = Camera::default();
    }

    /// Round to the front, where the piece is cut open, as near and as high as it is.
    pub fn face_front(&mut self) {
        self.camera.direction_rad = 0.0;
    }

    /// Where the eye is, for a view that takes this one's place.
    pub fn pose(&self) -> Vec<f64> {
        let camera = &self.camera;
        vec![camera.direction_rad, camera.height_rad, camera.zoom]
    }

    /// Takes the pose of an earlier view.
    pub fn set_pose(&mut self, pose: &[f64]) {
        if let [direction_rad, height_rad, zoom] = *pose {
            self.camera = Camera {
                direction_rad,
                height_rad,
                zoom,
            };
        }
    }

    /// Takes the canvas's size, CSS pixels, and the screen's pixels for one of them.
    pub fn resize(&mut self, width_px: f64, height_px: f64, device_pixel_ratio: f64) {
        let pixels = |length: f64| (length * device_pixel_ratio).round().clamp(1.0, 4096.0) as u32;
        let (width, height) = (pixels(width_px), pixels(height_px));
        if (width, height) != (self.canvas.width(), self.canvas.height()) {
            self.canvas.set_width(width);
            self.canvas.set_height(height);
        }
    }

    /// Draws the piece on the paper's color, `#rrggbb`.
    pub fn draw(&self, paper: &str) {
        let gl = &self.gl;
        let (width, height) = (
            self.canvas.width().cast_signed(),
            self.canvas.height().cast_signed(),
        );
        let digits = paper.trim().trim_start_matches('#');
        let [_, red, green, blue] = u32::from_str_radix(digits, 16)
            .unwrap_or(0x00ff_ffff)
            .to_be_bytes()
            .map(|part| f32::from(part) / 255.0);
        gl.viewport(0, 0, width, height);
        gl.clear_color(red, green, blue, 1.0);
        gl.clear(Gl::COLOR_BUFFER_BIT | Gl::DEPTH_BUFFER_BIT);
        gl.enable(Gl::DEPTH_TEST);
        gl.enable(Gl::CULL_FACE);
        gl.depth_func(Gl::LEQUAL);
        let shape = f64::from(width) / f64::from(height.max(1));
        let View { matrix, axes, .. } = self.camera.view(&self.bounds, shape);
        gl.uniform_matrix4fv_with_f32_array(self.view_place.as_ref(), false, &matrix);
        let axes = axes.as_flattened();
        gl.uniform_matrix3fv_with_f32_array(self.axes_place.as_ref(), false, axes);
        gl.uniform1f(self.ink_place.as_ref(), 0.0);
        gl.draw_elements_with_i32(Gl::TRIANGLES, self.triangle_corners, Gl::UNSIGNED_INT, 0);
        gl.uniform1f(self.ink_place.as_ref(), INK);
        let after = 4 * self.triangle_corners;
        gl.draw_elements_with_i32(Gl::LINES, self.line_corners, Gl::UNSIGNED_INT, after);
    }
}

impl View3d {
    /// Hands numbers to the shader, so many to each thing, and how many things there are.
    fn hand(
        &self,
        [place, count_place]: &[Option<WebGlUniformLocation>; 2],
        numbers: &[f32],
        each: usize,
    ) {
        let count = i32::try_from(numbers.len() / each).unwrap_or(0);
        self.gl.uniform1i(count_place.as_ref(), count);
        if count > 0 {
            self.gl.uniform4fv_with_f32_array(place.as_ref(), numbers);
        }
    }

    /// Hands a mesh to the graphics.
    fn hold(&mut self, mesh: &Mesh) {
        let gl = &self.gl;
        let [positions, normals, colors, corners] = &self.buffers;
        let fill = |buffer: &WebGlBuffer, data: &Object, target: u32| {
            gl.bind_buffer(target, Some(buffer));
            gl.buffer_data_with_array_buffer_view(target, data, Gl::STATIC_DRAW);
        };
        let takes = |place: u32, kind: u32, is_share: bool| {
            gl.vertex_attrib_pointer_with_i32(place, 3, kind, is_share, 0, 0);
            gl.enable_vertex_attrib_array(place);
        };
        fill(
            positions,
            &Float32Array::from(&mesh.positions[..]),
            Gl::ARRAY_BUFFER,
        );
        takes(POSITION, Gl::FLOAT, false);
        fill(
            normals,
            &Float32Array::from(&mesh.normals[..]),
            Gl::ARRAY_BUFFER,
        );
        takes(NORMAL, Gl::FLOAT, false);
        fill(
            colors,
            &Uint8Array::from(&mesh.colors[..]),
            Gl::ARRAY_BUFFER,
        );
        takes(WOOD, Gl::UNSIGNED_BYTE, true);
        let all = [&mesh.triangles[..], &mesh.lines[..]].concat();
        fill(
            corners,
            &Uint32Array::from(&all[..]),
            Gl::ELEMENT_ARRAY_BUFFER,
        );
        self.triangle_corners = i32::try_from(mesh.triangles.len()).unwrap_or(0);
        self.line_corners = i32::try_from(mesh.lines.len()).unwrap_or(0);
        self.bounds = mesh.bounds();
    }
}

fn program(gl: &Gl) -> Option<WebGlProgram> {
    let program = gl.create_program()?;
    for (kind, source) in [
        (Gl::VERTEX_SHADER, VERTEX_SHADER),
        (Gl::FRAGMENT_SHADER, FRAGMENT_SHADER),
    ] {
        let shader = gl.create_shader(kind)?;
        gl.shader_source(&shader, source);
        gl.compile_shader(&shader);
        gl.attach_shader(&program, &shader);
    }
    gl.link_program(&program);
    let is_linked = gl.get_program_parameter(&program, Gl::LINK_STATUS);
    is_linked.is_truthy().then_some(program)
}
